import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { isKnownError } from "../errors.js";
import { catalogue } from "./catalogue.js";
import { evaluateFormula } from "./evaluate.js";

const particle = { "core-diameter": "25 nm", saturation: "446 kA/m", temperature: "300 K" };

describe("a formula asked by name", () => {
  it("answers in its display unit, with its source and the inputs it used", () => {
    const answer = evaluateFormula("psf-width", particle);
    expect(answer).toMatchObject({
      name: "psf-width",
      status: "from memory",
      outputs: [{ name: "static-width", label: "static width", unit: "mT" }],
    });
    expect(answer.outputs[0].value).toBeCloseTo(4.72339, 6);
    expect(answer.inputs[0]).toEqual({
      name: "core-diameter",
      value: 25e-9,
      unit: "m",
      given: "25 nm",
      isDefault: false,
    });
    expect(answer.advisories.join()).toMatch(/lower bound/);
  });

  it("says which inputs are defaults", () => {
    const { inputs } = evaluateFormula("iron-per-core", { "core-diameter": "25 nm", density: "4870 kg/m3" });
    expect(inputs.map(({ name, isDefault }) => [name, isDefault])).toEqual([
      ["core-diameter", false],
      ["density", false],
      ["iron-mass-fraction", true],
    ]);
  });

  it("takes any unit of the kind", () => {
    const other = { "core-diameter": "0.025 um", saturation: "446 emu/cm3", temperature: "26.85 Cel" };
    const [a, b] = [particle, other].map((inputs) => evaluateFormula("psf-width", inputs).outputs[0].value);
    expect(b / a).toBeCloseTo(1, 12);
  });

  it("cautions outside the usual range", () => {
    const advice = evaluateFormula("core-moment", { "core-diameter": "120 nm", saturation: "600 kA/m" }).advisories;
    expect(advice).toHaveLength(2);
  });
});

describe("refusals name the place, what came and what fits", () => {
  it.each([
    ["psf-with", particle, "UnknownName", /did you mean "psf-width"/],
    [
      "psf-width",
      { ...particle, "core-diametre": "25 nm" },
      "UnknownName",
      /at core-diametre: .*did you mean "core-diameter"\? Inputs: core-diameter, saturation, temperature/,
    ],
    [
      "psf-width",
      { saturation: "446 kA/m" },
      "MissingFact",
      /without core-diameter, temperature; accepted: core-diameter "25 nm"/,
    ],
    ["psf-width", { ...particle, "core-diameter": "25" }, "UnitMismatch", /at core-diameter: found 25 without a unit/],
    ["psf-width", { ...particle, "core-diameter": "25 mT" }, "UnitMismatch", /at core-diameter/],
    ["psf-width", { ...particle, saturation: "0.6 T" }, "UnitMismatch", /0\.6 T\/mu0/],
    [
      "psf-width",
      { ...particle, "core-diameter": "0 nm" },
      "InvalidValue",
      /at core-diameter: found "0 nm"; accepted: above 0 m, e\.g\. "25 nm"/,
    ],
    [
      "x-space-resolution",
      { ...particle, gradient: "-7 T/m" },
      "InvalidValue",
      /at gradient: found "-7 T\/m"; accepted: above 0 T\/m/,
    ],
    [
      "iron-per-core",
      { "core-diameter": "25 nm", "iron-mass-fraction": "72 " },
      "InvalidValue",
      /at iron-mass-fraction: found "72 "; accepted: above 0 and at most 1/,
    ],
    [
      "reciprocity-voltage",
      { sensitivity: "30 uT/A", "moment-rate": "1e-4 A.m2/s", polarity: "0.5" },
      "InvalidValue",
      /at polarity: found 0\.5; accepted: 1 or -1/,
    ],
    [
      "lissajous-period",
      { "base-frequency": "2.5 MHz", "divider-x": "1.5" },
      "InvalidValue",
      /found 1\.5; accepted: a whole number/,
    ],
    ["currie-limits", { blank: "-1" }, "InvalidValue", /at blank/],
    ["psf-width", { ...particle, "core-diameter": "1e-120 m" }, "InvalidValue", /beyond double precision/],
    ["psf-width", { ...particle, "core-diameter": "1e120 m" }, "InvalidValue", /beyond double precision/],
    [
      "iron-per-core",
      { "core-diameter": "1e-120 m" },
      "InvalidValue",
      /cores-per-nanogram of iron-per-core is not a finite number/,
    ],
    [
      "core-moment",
      { "core-diameter": "25 nm", saturation: "446 kA/m", toString: "1" },
      "UnknownName",
      /input "toString"/,
    ],
  ] as const)("%s %j", (name, inputs, code, message) => {
    let thrown: unknown;
    try {
      evaluateFormula(name, inputs);
    } catch (error) {
      thrown = error;
    }
    expect(isKnownError(thrown, code)).toBe(true);
    expect((thrown as Error).message).toMatch(message);
  });

  it("random texts are answered or refused with a tagged error, never anything else", () => {
    const text = fc.oneof(
      fc.string({ maxLength: 12 }),
      fc.constantFrom("25 nm", "1e-308 m", "446 kA/m", "300 K", "1e300"),
    );
    fc.assert(
      fc.property(fc.constantFrom(...catalogue), fc.array(text, { minLength: 8, maxLength: 8 }), (formula, texts) => {
        const inputs = Object.fromEntries(formula.inputs.map(({ name }, i) => [name, texts[i]]));
        try {
          const { outputs } = evaluateFormula(formula.name, inputs);
          expect(outputs.every(({ value }) => Number.isFinite(value))).toBe(true);
        } catch (error) {
          if (!isKnownError(error)) throw error;
        }
      }),
    );
  });
});
