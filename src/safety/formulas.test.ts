import { describe, expect, it } from "vitest";
import { parseQuantity, parseUnit, quantityKinds, toUnit } from "../units/index.js";
import { safetyFormulas } from "./formulas.js";

/** Outputs of a formula from texts, with its defaults, in its display units. */
function evaluate(name: string, given: Readonly<Record<string, string>>) {
  const formula = safetyFormulas.find((candidate) => candidate.name === name);
  if (formula === undefined) throw new Error(`no formula ${name}`);
  const inputs = Object.fromEntries(
    formula.inputs.map((input) => [
      input.name,
      parseQuantity(given[input.name] ?? input.default ?? input.example, input.kind),
    ]),
  );
  const results = formula.compute(inputs);
  const outputs = Object.fromEntries(formula.outputs.map(({ name: key, unit }) => [key, toUnit(results[key], unit)]));
  return { outputs, advice: formula.advise?.(inputs) ?? [] };
}

describe("formulas of the safety layer", () => {
  it("are these", () => {
    expect(safetyFormulas.map(({ name }) => name)).toEqual([
      "stimulation-threshold",
      "stimulation-departure",
      "cylinder-sar",
      "induced-field",
      "icnirp-reference-level",
    ]);
  });

  it.each([
    ["1 kHz", 17.2],
    ["10 kHz", 8.2],
    ["25 kHz", 7.6],
    ["100 kHz", 7.3],
  ])("stimulation-threshold at %s: %f mT peak to peak (W26)", (frequency, expected) => {
    const { outputs } = evaluate("stimulation-threshold", { frequency });
    expect(outputs["first-level"]).toBeCloseTo(expected, 10);
    expect(outputs["normal-mode"]).toBeCloseTo(0.8 * expected, 10);
    expect(outputs["first-level-amplitude"]).toBeCloseTo(expected / 2, 10);
    expect(outputs["normal-mode-amplitude"]).toBeCloseTo(0.4 * expected, 10);
  });

  it("stimulation-threshold says where the hyperbola fails, and the other readings", () => {
    const advice = (frequency: string) => evaluate("stimulation-threshold", { frequency }).advice.join("\n");
    expect(advice("25 kHz")).toMatch(/7\.455 mT for d = 1\/\(pi f\), 4\.838 mT for d = 1\/\(2 f\)/);
    expect(advice("88.1 kHz")).toMatch(/the hyperbola fails here.*x1\.39/);
    expect(advice("100 kHz")).toMatch(/no published threshold in our sources/);
    expect(advice("10 kHz")).toMatch(/extrapolation/);
  });

  it("stimulation-departure: 1.39 at 88.1 kHz", () => {
    expect(evaluate("stimulation-departure", { frequency: "88.1 kHz" }).outputs.ratio).toBeCloseTo(1.39, 14);
  });

  it("cylinder-sar: W27", () => {
    const inputs = { frequency: "25 kHz", amplitude: "6 mT", radius: "0.2 m", conductivity: "0.36 S/m" };
    const { outputs } = evaluate("cylinder-sar", inputs);
    expect(outputs.mean).toBeCloseTo(0.799438, 6);
    expect(outputs.surface).toBeCloseTo(1.598876, 6);
    expect(outputs["surface-electric-field"]).toBeCloseTo(94.2478, 4);
  });

  it("induced-field: falls to zero on the axis; rms is peak over sqrt 2", () => {
    const at = (position: string) =>
      evaluate("induced-field", { frequency: "25 kHz", amplitude: "6 mT", radius: "0.2 m", position }).outputs;
    expect(at("100 %").peak).toBeCloseTo(94.2478, 4);
    expect(at("50 %").peak).toBeCloseTo(47.1239, 4);
    expect(at("50 %").rms).toBeCloseTo(47.1239 / Math.SQRT2, 4);
    expect(at("0 %").peak).toBe(0);
  });

  it("icnirp-reference-level: W28 and P16", () => {
    const { outputs } = evaluate("icnirp-reference-level", { frequency: "25 kHz" });
    expect(outputs.occupational).toBeCloseTo(0.1, 12);
    expect(outputs.public).toBeCloseTo(0.027, 12);
    expect(outputs["occupational-electric-field"]).toBeCloseTo(6.75, 12);
    expect(outputs["public-electric-field"]).toBeCloseTo(3.375, 12);
    expect(outputs["occupational-electric-field-peak"] / 25e3).toBeCloseTo(3.8184e-4, 8);
    expect(evaluate("icnirp-reference-level", { frequency: "1 kHz" }).advice[0]).toMatch(/read at 60 Hz only/);
  });
});

describe.each(safetyFormulas.map((formula) => [formula.name, formula] as const))("%s as declared", (_name, formula) => {
  it("computes every output, and no other, in units of their kind, at its examples and at its bounds", () => {
    const example = Object.fromEntries(
      formula.inputs.map((input) => [input.name, parseQuantity(input.example, input.kind)]),
    );
    const bounds = formula.inputs.flatMap(({ name, minimum, maximum, aboveMinimum }) => [
      ...(minimum === undefined || aboveMinimum ? [] : [{ ...example, [name]: minimum }]),
      ...(maximum === undefined ? [] : [{ ...example, [name]: maximum }]),
    ]);
    for (const inputs of [example, ...bounds]) {
      const results = formula.compute(inputs);
      expect(Object.keys(results).sort()).toEqual(formula.outputs.map(({ name }) => name).sort());
      for (const value of Object.values(results)) expect(Number.isFinite(value)).toBe(true);
    }
    for (const { kind, unit } of formula.outputs)
      expect(parseUnit(unit).dimension).toEqual(parseUnit(quantityKinds[kind].siUnit).dimension);
  });

  it("advises that it clears nobody", () => {
    const example = Object.fromEntries(
      formula.inputs.map((input) => [input.name, parseQuantity(input.example, input.kind)]),
    );
    const advice = (formula.advise?.(example) ?? []).join("; ");
    expect(advice).toMatch(/not a medical device; local codes, ethics approval and licensed practice decide/);
    expect(`${advice} ${formula.summary} ${formula.validity}`).not.toMatch(/\bsafe/i);
  });
});
