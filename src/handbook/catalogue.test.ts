import { describe, expect, it } from "vitest";
import { type Formula, parseQuantity, parseUnit, quantityKinds, toUnit } from "../units/index.js";
import { catalogue, findFormula, withUniqueNames } from "./catalogue.js";

describe("catalogue", () => {
  it("has the first formulas", () => {
    const names = catalogue.map(({ name }) => name);
    for (const name of [
      "langevin",
      "langevin-slope",
      "core-moment",
      "iron-per-core",
      "moment-per-iron",
      "psf-width",
      "psf-width-transverse",
      "x-space-resolution",
      "partial-fov",
      "field-free-speed",
      "lissajous-period",
      "peak-moment-rate",
      "reciprocity-voltage",
      "currie-limits",
    ]) {
      expect(names).toContain(name);
    }
  });

  it("refuses two entries of one name, in the list and inside a formula", () => {
    const [first] = catalogue;
    expect(() => withUniqueNames([...catalogue, first])).toThrow(/"langevin" twice in the handbook/);
    const twins: Formula = { ...first, inputs: [first.inputs[0], first.inputs[0]] };
    expect(() => withUniqueNames([twins])).toThrow(/"xi" twice in the inputs of langevin/);
  });

  it("names the nearest formula when there is none of that name", () => {
    expect(() => findFormula("psf-widht")).toThrow(/found formula "psf-widht"; accepted: did you mean "psf-width"\?/);
    expect(() => findFormula("constructor")).toThrow(/accepted: Formulas: langevin/); // nothing is near
  });
});

describe.each(catalogue.map((formula) => [formula.name, formula] as const))("%s as declared", (_name, formula) => {
  const examples = Object.fromEntries(
    formula.inputs.map(({ name, kind, example }) => [name, parseQuantity(example, kind)]),
  );

  it("has examples and defaults that parse and lie within the bounds", () => {
    for (const {
      name,
      kind,
      default: standIn,
      minimum = -Infinity,
      maximum = Infinity,
      aboveMinimum,
    } of formula.inputs) {
      for (const value of [examples[name], ...(standIn === undefined ? [] : [parseQuantity(standIn, kind)])]) {
        expect(value).toBeGreaterThanOrEqual(minimum);
        expect(value).toBeLessThanOrEqual(maximum);
        if (aboveMinimum) expect(value).not.toBe(minimum);
      }
    }
  });

  it("computes every declared output, and no other, as finite numbers from the examples", () => {
    const results = formula.compute(examples);
    expect(Object.keys(results).sort()).toEqual(formula.outputs.map(({ name }) => name).sort());
    for (const value of Object.values(results)) expect(Number.isFinite(value)).toBe(true);
  });

  it("shows each output in a unit of its kind", () => {
    for (const { kind, unit } of formula.outputs) {
      expect(parseUnit(unit).dimension).toEqual(parseUnit(quantityKinds[kind].siUnit).dimension);
      expect(Number.isFinite(toUnit(1, unit))).toBe(true);
    }
  });

  it("has kebab-case names, a summary, an equation, a validity and a source", () => {
    for (const { name } of [formula, ...formula.inputs, ...formula.outputs])
      expect(name).toMatch(/^[a-z0-9]+(-[a-z0-9]+)*$/);
    for (const text of [formula.summary, formula.equation, formula.validity, formula.source.text]) {
      expect(text.length).toBeGreaterThan(5);
      expect(text).not.toMatch(/\n/);
    }
  });
});
