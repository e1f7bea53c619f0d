import { describe, expect, it } from "vitest";
import { brownianMagnetisation, quasiStaticHarmonic, waveformHarmonic } from "../../physics/index.js";
import { ensembleHarmonics } from "./harmonic-model.js";
import { brownianHarmonics, equilibriumHarmonics } from "./harmonic-response.js";
import { tableOfSizes, tableOfSizesAndTimes } from "./response-table.js";

const odd = [1, 3, 5, 7];

describe("equilibriumHarmonics", () => {
  it.each([0.01, 1, 5, 50])("is the physics layer's for odd harmonics without bias, xi %d", (xi) => {
    const found = equilibriumHarmonics({ harmonic: odd, biasRatio: 0 })(Math.log(xi));
    for (const [k, harmonic] of odd.entries()) {
      // both sums are exact to rounding of a function of size 1
      expect(Math.abs(found[2 * k] - quasiStaticHarmonic(xi, harmonic))).toBeLessThan(2e-14);
      expect(found[2 * k + 1]).toBe(0);
    }
  });
  it("has the even harmonics of a weak field with bias", () => {
    // L = x/3 - x^3/45, x = xi (cos + r): second harmonic -xi^3 r / 30
    const [xi, r] = [0.01, 2];
    const found = equilibriumHarmonics({ harmonic: [2], biasRatio: r })(Math.log(xi));
    // next order: xi^5 r^3-ish, 1e-3 of it
    expect(found[0] / ((-(xi ** 3) * r) / 30)).toBeCloseTo(1, 2);
  });
});

describe("tables", () => {
  it("interpolate sizes to 2e-8 of the largest harmonic", () => {
    const exact = equilibriumHarmonics({ harmonic: odd, biasRatio: 0 });
    const table = tableOfSizes(exact);
    table.prepare(-3, 4, 0);
    for (let t = -2.93; t < 4; t += 0.37) {
      const found = table.at(t, 0, new Float64Array(8));
      // 1.2 h^8 = 1.2e-8 for h = 0.1
      for (const [k, value] of exact(t).entries()) expect(Math.abs(found[k] - value)).toBeLessThan(2e-8);
    }
  });
  it("interpolate sizes and times within the solver's tolerance", () => {
    const set = { harmonic: [1, 3, 5], biasRatio: 0.2 };
    const table = tableOfSizesAndTimes(brownianHarmonics(set));
    for (const [xi, omegaTau] of [
      [2.3, 0.37],
      [11, 3.1],
    ] as const) {
      table.prepare(Math.log(xi), Math.log(xi), Math.log(omegaTau));
      const found = table.at(Math.log(xi), Math.log(omegaTau), new Float64Array(6));
      const field = { period_s: 2 * Math.PI, field_T: (t: number) => Math.cos(t) + 0.2 };
      const { magnetisation } = brownianMagnetisation(field, { xiPerTesla: xi, brownTime_s: omegaTau });
      for (const [k, harmonic] of set.harmonic.entries()) {
        const { amplitude, phase_rad } = waveformHarmonic(magnetisation, harmonic);
        // 1.2 h^8 = 3e-6 in each of two directions, and 3e-6 of the solver
        expect(Math.abs(found[2 * k] - amplitude * Math.cos(phase_rad))).toBeLessThan(1e-5);
        expect(Math.abs(found[2 * k + 1] - amplitude * Math.sin(phase_rad))).toBeLessThan(1e-5);
      }
    }
  });
  it("refuse what was not prepared", () => {
    const table = tableOfSizes(equilibriumHarmonics({ harmonic: odd, biasRatio: 0 }));
    expect(() => table.at(0, 0, new Float64Array(8))).toThrow(RangeError);
  });
});

describe("ensembleHarmonics", () => {
  const core = { saturation_A_per_m: 446e3, temperature_K: 300 };
  const single = { sizes: { kind: "single", diameter_m: 25e-9 }, ...core } as const;
  const table = () => tableOfSizes(equilibriumHarmonics({ harmonic: odd, biasRatio: 0 }));
  it("is one size's harmonics for one size: 25 nm in 20 mT", () => {
    const found = ensembleHarmonics(single, table(), { driveAmplitude_T: 0.02, harmonic: odd });
    // xi 0.880945 per mT (checks/handbook), printed to six digits
    for (const [k, harmonic] of odd.entries())
      expect(Math.abs(found[2 * k] - quasiStaticHarmonic(0.880945 * 20, harmonic))).toBeLessThan(1e-6);
  });
  it("lags by atan(k w tau) with a Debye time, and is smaller by 1/sqrt(1 + (k w tau)^2)", () => {
    const still = ensembleHarmonics(single, table(), { driveAmplitude_T: 0.02, harmonic: odd });
    const found = ensembleHarmonics(single, table(), { driveAmplitude_T: 0.02, harmonic: odd, debyeOmegaTau: 0.3 });
    for (const [k, harmonic] of odd.entries()) {
      const x = 0.3 * harmonic;
      expect(Math.hypot(found[2 * k], found[2 * k + 1])).toBeCloseTo(Math.abs(still[2 * k]) / Math.hypot(1, x), 12);
      expect(found[2 * k + 1] / found[2 * k]).toBeCloseTo(-x, 10);
    }
  });
});
