import { describe, expect, it } from "vitest";
import { fokkerPlanckHarmonicFormula } from "./harmonic-formulas.js";
import { harmonicDecay, quasiStaticHarmonic } from "./quasi-static-harmonics.js";

describe("quasiStaticHarmonic", () => {
  it("meets its limits", () => {
    expect(quasiStaticHarmonic(0, 1)).toBe(0);
    expect(harmonicDecay(0)).toBe(0);
    // A strong drive makes a square wave: 4/(pi n), with alternating sign, short by what the turn costs.
    for (const [n, sign] of [
      [1, 1],
      [3, -1],
      [5, 1],
    ])
      expect(Math.abs((quasiStaticHarmonic(1e5, n) * Math.PI * n) / 4 - sign)).toBeLessThan(1e-4);
  });

  it("gives back the curve when summed", () => {
    let sum = 0;
    for (let n = 1; n < 120; n += 2) sum += quasiStaticHarmonic(10, n);
    expect(Math.abs(sum - (1 / Math.tanh(10) - 0.1))).toBeLessThan(1e-13);
  });

  it("refuses even harmonics and absurd drives", () => {
    expect(() => quasiStaticHarmonic(5, 2)).toThrow(/harmonic: found 2; accepted: an odd whole number/);
    expect(() => quasiStaticHarmonic(5, 1.5)).toThrow(/harmonic/);
    expect(() => quasiStaticHarmonic(2e5, 1)).toThrow(/drive-xi/);
  });
});

describe("fokker-planck-harmonic", () => {
  it("refuses even harmonics and warns where the harmonic drowns", () => {
    const inputs = { "drive-xi": 0.1, "omega-tau": 1, harmonic: 1 };
    expect(() => fokkerPlanckHarmonicFormula.compute({ ...inputs, harmonic: 2 })).toThrow(/odd whole number/);
    expect(fokkerPlanckHarmonicFormula.advise?.(inputs)).toEqual([]);
    expect(fokkerPlanckHarmonicFormula.advise?.({ ...inputs, harmonic: 9 })).toHaveLength(1);
  });

  it("stays clear of the aliases of a strong, slow drive", () => {
    for (const harmonic of [1, 255]) {
      const found = fokkerPlanckHarmonicFormula.compute({ "drive-xi": 100, "omega-tau": 1e-6, harmonic });
      expect(Math.abs(found["harmonic-amplitude"] - Math.abs(quasiStaticHarmonic(100, harmonic)))).toBeLessThan(1e-6);
    }
  });
});
