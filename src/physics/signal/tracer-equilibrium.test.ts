import { describe, expect, it } from "vitest";
import { equilibriumMagnetisation, equilibriumWidth_T } from "./tracer-equilibrium.js";

const ensemble = {
  sizes: { kind: "single", diameter_m: 25e-9 },
  saturation_A_per_m: 446e3,
  temperature_K: 300,
} as const;
const neel = (anisotropy_J_per_m3: number, easyAxes: "parallel" | "random") =>
  ({ ensemble, relaxation: { kind: "neel", anisotropy_J_per_m3, damping: 0.1, easyAxes } }) as const;
const perTesla = 880.945; // facts, computed table

describe("equilibrium of a tracer", () => {
  it("with vanishing anisotropy is that of free axes: 4.7234 mT", () => {
    for (const axes of ["parallel", "random"] as const)
      expect(equilibriumWidth_T(neel(1e-3, axes)) * 1e3).toBeCloseTo(4.72339, 3);
  });

  it("with a high barrier along the field has two states: tanh, 1.762747 kB T/m wide", () => {
    // sech^2 is a half at acosh(sqrt 2); a barrier of 50 leaves corrections of 1/50.
    const sigma = 50;
    const K = (sigma * 1.380649e-23 * 300) / ((Math.PI / 6) * 25e-9 ** 3);
    const width = equilibriumWidth_T(neel(K, "parallel")) * perTesla;
    expect(Math.abs(width / (2 * Math.acosh(Math.SQRT2)) - 1)).toBeLessThan(0.05);
  });

  it("fixed random axes at KV/kT 10, xi 5 give 0.614, not 0.800 (surprise 7)", () => {
    const K = (10 * 1.380649e-23 * 300) / ((Math.PI / 6) * 25e-9 ** 3);
    const [m] = equilibriumMagnetisation(Float64Array.of(5 / perTesla), neel(K, "random"));
    expect(m).toBeCloseTo(0.614, 3);
  });
});
