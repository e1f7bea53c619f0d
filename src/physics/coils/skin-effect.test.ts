import { describe, expect, it } from "vitest";
import { skinDepth_m, skinEffect, strandEddyLoss_W } from "./skin-effect.js";

describe("skin effect", () => {
  it("depth of copper at 25 kHz: √(1.7241e-8/(π·25e3·1.25664e-6)) = 0.41796 mm; infinite at 0 Hz", () => {
    expect(skinDepth_m(1.7241e-8, 25e3) * 1e3).toBeCloseTo(0.41796, 5);
    expect(skinDepth_m(1.7241e-8, 0)).toBe(Number.POSITIVE_INFINITY);
    expect(skinEffect(1e-3, Number.POSITIVE_INFINITY)).toEqual({ resistanceRatio: 1, internalInductanceRatio: 1 });
  });
  it("starts as 1 + q⁴/48 and 1 − q⁴/96, q = a/δ", () => {
    const { resistanceRatio, internalInductanceRatio } = skinEffect(0.1, 1);
    // The next terms are of the order q⁸.
    expect(Math.abs(resistanceRatio - 1 - 1e-4 / 48)).toBeLessThan(1e-9);
    expect(Math.abs(internalInductanceRatio - 1 + 1e-4 / 96)).toBeLessThan(1e-9);
  });
  it("ends as a skin one depth thick: R/R0 -> q/2 + 1/4", () => {
    expect(skinEffect(300, 1).resistanceRatio).toBeCloseTo(150.25, 3);
  });
  it("joins its series without a step", () => {
    const [below, above] = [9999.999, 10000.001].map((q) => skinEffect(q, 1));
    // q moves by 2e-7 of itself across the join, and the ratios with it.
    expect(Math.abs(above.resistanceRatio / below.resistanceRatio - 1 - 2e-7)).toBeLessThan(1e-10);
    expect(Math.abs(above.internalInductanceRatio / below.internalInductanceRatio - 1 + 2e-7)).toBeLessThan(1e-10);
  });
  it("rises with the radius, falls for the inductance", () => {
    const ratios = [0.1, 0.5, 1, 2, 5, 20].map((q) => skinEffect(q, 1));
    for (let i = 1; i < ratios.length; i++) {
      expect(ratios[i].resistanceRatio).toBeGreaterThan(ratios[i - 1].resistanceRatio);
      expect(ratios[i].internalInductanceRatio).toBeLessThan(ratios[i - 1].internalInductanceRatio);
    }
  });
  it("refuses a radius of nothing and a negative frequency", () => {
    expect(() => skinEffect(0, 1e-3)).toThrow(/radius_m/);
    expect(() => skinDepth_m(1.7e-8, -1)).toThrow(/frequency_Hz/);
  });
});

describe("loss of strands in a field", () => {
  const strand = {
    strandDiameter_m: 1e-4,
    frequency_Hz: 25e3,
    resistivity_Ohm_m: 1.7241e-8,
    meanSquareField_T2: 1e-4,
    metalVolume_m3: 1e-5,
  };
  it("worked: 1e-5 m3 of 0.1 mm strands in 10 mT at 25 kHz take 447 mW", () => {
    // 1e-5·(1.5708e5)²·1e-4·1e-8/(32·1.7241e-8)
    expect(strandEddyLoss_W(strand)).toBeCloseTo(0.44723, 4);
  });
  it("goes with the squares of frequency and diameter, and refuses a strand of nothing", () => {
    expect(
      strandEddyLoss_W({ ...strand, frequency_Hz: 50e3, strandDiameter_m: 3e-4 }) / strandEddyLoss_W(strand),
    ).toBeCloseTo(36, 12);
    expect(() => strandEddyLoss_W({ ...strand, strandDiameter_m: -1 })).toThrow(/strandDiameter_m/);
  });
});
