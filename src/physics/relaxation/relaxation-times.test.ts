import { describe, expect, it } from "vitest";
import { exactNeelTime_s } from "./neel-eigenvalue.js";
import { neelTimeFormula } from "./relaxation-formulas.js";
import {
  arrheniusTime_s,
  barrierRatio,
  brownTime_s,
  combinedTime_s,
  freeNeelTime_s,
  highBarrierTime_s,
} from "./relaxation-times.js";

describe("zero-field times", () => {
  it("scale as they should", () => {
    expect(brownTime_s(200e-9, 1e-3, 300) / brownTime_s(100e-9, 1e-3, 300)).toBeCloseTo(8, 12);
    expect(brownTime_s(100e-9, 2e-3, 300) / brownTime_s(100e-9, 1e-3, 600)).toBeCloseTo(4, 12);
    expect(barrierRatio(40e-9, 13e3, 300) / barrierRatio(20e-9, 13e3, 300)).toBeCloseTo(8, 12);
    expect(arrheniusTime_s(0, 1e-9)).toBe(1e-9);
  });

  it("free Neel time of a 20 nm core, written out by hand", () => {
    // m = 446e3 * 4.18879e-24 = 1.868200e-18 A m2; m/kT = 451.044 1/T; (1 + 0.01)/(2 * 0.1 * 1.760860e11) = 2.867917e-11
    const found = freeNeelTime_s({
      coreDiameter_m: 20e-9,
      saturation_A_per_m: 446e3,
      temperature_K: 300,
      damping: 0.1,
    });
    expect(Math.abs(found / (451.044 * 2.867917e-11) - 1)).toBeLessThan(2e-6);
  });

  it("free Neel time is least at damping 1", () => {
    const at = (damping: number) =>
      freeNeelTime_s({ coreDiameter_m: 20e-9, saturation_A_per_m: 446e3, temperature_K: 300, damping });
    expect(at(0.5)).toBeGreaterThan(at(1));
    expect(at(2)).toBeGreaterThan(at(1));
    expect(at(0.5) / at(2)).toBeCloseTo(1, 12);
  });

  it("combined: the shorter time rules, equal times halve", () => {
    expect(combinedTime_s(1e-6, 1e300)).toBe(1e-6);
    expect(combinedTime_s(4, 4)).toBe(2);
    expect(combinedTime_s(3, 6)).toBeCloseTo(2, 15);
    expect(combinedTime_s(6, 3)).toBe(combinedTime_s(3, 6));
  });

  it("exact Neel time: tau_N0 without barrier, Brown's form for a high one", () => {
    expect(exactNeelTime_s(0, 3e-9)).toBeCloseTo(3e-9, 22);
    // First order of the eigenvalue: mu = 2 (1 - 2 sigma/5).
    expect(Math.abs(exactNeelTime_s(1e-4, 1) - 1 - 0.4e-4)).toBeLessThan(1e-8);
    // Asymptotic series 1 - 1/sigma - ...: within 2/sigma.
    for (const sigma of [50, 200, 500]) {
      const ratio = highBarrierTime_s(sigma, 1 / sigma) / exactNeelTime_s(sigma, 1);
      expect(ratio).toBeLessThan(1);
      expect(ratio).toBeGreaterThan(1 - 2 / sigma);
    }
  });

  it("refuse what has no meaning", () => {
    expect(() => brownTime_s(0, 1e-3, 300)).toThrow(/hydrodynamicDiameter_m/);
    expect(() => exactNeelTime_s(501, 1)).toThrow(/barrier: found 501; accepted: a number from 0 to 500/);
    expect(() => combinedTime_s(1, -1)).toThrow(/neel_s/);
    expect(() => highBarrierTime_s(0, 1e-9)).toThrow(/barrier/);
  });

  it("the formula says by how much the high-barrier form is off", () => {
    const advice = (diameter: number) =>
      neelTimeFormula
        .advise?.({ "core-diameter": diameter, anisotropy: 13e3, temperature: 300, "attempt-time": 1e-9 })
        .join("\n");
    expect(advice(14.5e-9)).toMatch(/the high-barrier form is 20 % too short/); // sigma 5.01
    expect(advice(8e-9)).toMatch(/no barrier to speak of/);
    expect(advice(20e-9)).toMatch(/zero field/);
  });
});
