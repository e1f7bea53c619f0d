import { describe, expect, it } from "vitest";
import { parseDocument } from "../parse-document.js";

const base = {
  schema: "urn:ferrule:tracer:1",
  name: "Invented",
  origin: { kind: "invented", note: "for a test" },
  core: {
    material: "magnetite",
    saturation: "446 kA/m",
    density: "5180 kg/m3",
    ironMassFraction: "72.36 %",
    sizes: { kind: "single", diameter: "25 nm" },
  },
  relaxation: { kind: "none" },
  environment: { medium: "water", temperature: "22 Cel" },
} as const;

const parse = (changes: object) => parseDocument(JSON.stringify({ ...base, ...changes }), { family: "tracer" }).model;
const withSizes = (sizes: object, more: object = {}) => parse({ core: { ...base.core, sizes }, ...more });

describe("core sizes", () => {
  it("mixtures and tables arrive in SI with their weighting", () => {
    const populations = [
      { share: 2, medianDiameter: "8 nm", logSd: 0.3 },
      { share: 1, medianDiameter: "22 nm", logSd: 0.1 },
    ];
    expect(withSizes({ kind: "mixture", weighting: "volume", populations }).core.sizes).toEqual({
      kind: "mixture",
      weighting: "volume",
      populations: [
        { share: 2, medianDiameter_m: 8e-9, logSd: 0.3 },
        { share: 1, medianDiameter_m: 22e-9, logSd: 0.1 },
      ],
    });
    const table = withSizes({ kind: "table", weighting: "number", diameters: ["10 nm", "20 nm"], shares: [1, 3] });
    expect(table.core.sizes).toMatchObject({ kind: "table", diameter_m: [1e-8, 2e-8], share: [1, 3] });
  });

  it("refuses tables of unequal columns or of nothing, and uncertainties of another kind", () => {
    const table = { kind: "table", weighting: "number", diameters: ["10 nm", "20 nm"] };
    expect(() => withSizes({ ...table, shares: [1] })).toThrow(/1 shares for 2 diameters/);
    expect(() => withSizes({ ...table, shares: [0, 0] })).toThrow(/all 0/);
    const uncertainties = { uncertainties: { medianDiameter: "1 nm" } };
    expect(() => withSizes({ ...table, shares: [1, 1] }, uncertainties)).toThrow(/"staticWidth"/);
  });
});

describe("relaxation", () => {
  it.each([
    [
      { kind: "field-dependent", zeroFieldTime: "20 us", law: "peak" },
      { kind: "field-dependent", zeroFieldTime_s: 20e-6, law: "peak" },
    ],
    [
      { kind: "brownian", viscosity: "0.95 mPa.s", hydrodynamicDiameter: "50 nm", hydrodynamicLogSd: 0.2 },
      {
        kind: "brownian",
        viscosity_Pa_s: 0.95e-3,
        hydrodynamic: { kind: "median", diameter_m: 50e-9, logSd: 0.2 },
      },
    ],
    [
      { kind: "neel", anisotropy: "9 kJ/m3", damping: 0.1, easyAxes: "random" },
      { kind: "neel", anisotropy_J_per_m3: 9000, damping: 0.1, easyAxes: "random" },
    ],
    [
      { kind: "combined", viscosity: "1 mPa.s", shellThickness: "8 nm", anisotropy: "5 kJ/m3", attemptTime: "1 ns" },
      {
        kind: "combined",
        viscosity_Pa_s: 1e-3,
        hydrodynamic: { kind: "shell", thickness_m: 8e-9 },
        anisotropy_J_per_m3: 5000,
        attemptTime_s: 1e-9,
      },
    ],
  ])("%o arrives in SI", (relaxation, expected) => {
    const model = parse({ relaxation }).relaxation;
    expect(JSON.parse(JSON.stringify(model), round)).toEqual(JSON.parse(JSON.stringify(expected), round));
  });

  it("asks for one hydrodynamic size", () => {
    const brownian = { kind: "brownian", viscosity: "1 mPa.s" };
    expect(() => parse({ relaxation: brownian })).toThrow(/no hydrodynamic size/);
    const both = { ...brownian, hydrodynamicDiameter: "50 nm", shellThickness: "8 nm" };
    expect(() => parse({ relaxation: both })).toThrow(/a diameter and a shell/);
  });

  it("takes an uncertainty of a time or a coupling only beside one", () => {
    expect(() => parse({ uncertainties: { relaxationTime: "1 us" } })).toThrow(/relaxationTime/);
    expect(() => parse({ uncertainties: { coupling: 0.1 } })).toThrow(/"coupling"/);
    const model = parse({ coupling: 2, uncertainties: { coupling: 0.1 } });
    expect([model.coupling, model.standardUncertainties.coupling]).toEqual([2, 0.1]);
    expect(model.advisories.join()).toMatch(/effective parameter, not a chain geometry/);
  });
});

describe("states", () => {
  it("refuses two descriptions of one state", () => {
    const state = { medium: "water", temperature: "22.1 Cel", measurement: "invented" };
    expect(() => parse({ states: [state] })).toThrow(/second description of water/);
  });
});

/** Twelve digits: 20 us is 2e-5 but for the last bit. */
function round(_: string, value: unknown): unknown {
  return typeof value === "number" ? Number(value.toPrecision(12)) : value;
}
