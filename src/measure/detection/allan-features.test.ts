import { describe, expect, it } from "vitest";
import { stream } from "../../numerics/index.js";
import { allanDeviation } from "./allan-deviation.js";
import { allanFeatures } from "./allan-features.js";

const white = stream(20261125, 6).fillNormal(new Float64Array(4096));
const featuresOf = (values: Float64Array, interval_s: number) =>
  allanFeatures(values, allanDeviation(values, { interval_s }), { interval_s });

describe("features of an Allan deviation", () => {
  it("white noise: density is sd sqrt(2 tau0), slope -1/2", () => {
    const found = featuresOf(white, 0.5);
    // sd 1 at 0.5 s: density 1; sampling error of the deviation at 4096 values: 1.4 %.
    expect(Math.abs((found.whiteDensity_per_sqrtHz ?? 0) - 1)).toBeLessThan(0.05);
    expect(Math.abs(found.slopes[0] + 0.5)).toBeLessThan(0.1);
    expect(found.driftShare).toBeLessThan(0.5);
  });

  it("white noise stays white to the end in 95 % of series or more (200 of 1024 values; 4 binomial sd: 6 %)", () => {
    let left = 0;
    for (let chunk = 0; chunk < 200; chunk++) {
      const series = stream(20261125, 7, chunk).fillNormal(new Float64Array(1024));
      if (featuresOf(series, 1).whiteUntil_s !== 256) left++;
    }
    expect(left / 200).toBeLessThan(0.11);
  });

  it("drift ends the white region, sets the best time and explains the end", () => {
    const slope = 5e-4; // per value of 0.5 s: 1e-3 per second
    const found = featuresOf(
      white.map((value, i) => value + slope * i),
      0.5,
    );
    // sigma^2 = 1/m + (slope m)^2/2 is least at m = slope^(-2/3) = 159: between 128 and 256 values.
    expect([64, 128]).toContain(found.best.time_s);
    expect(found.isBestAtEnd).toBe(false);
    expect(found.whiteUntil_s).toBeLessThanOrEqual(128);
    expect(found.drift_per_s * 1e3).toBeCloseTo(1, 1);
    expect(found.driftShare).toBeGreaterThan(0.8);
    expect(found.driftShare).toBeLessThan(1.2);
    expect(found.slopes[found.slopes.length - 1]).toBeGreaterThan(0.7);
  });

  it("a random walk has no white region", () => {
    let sum = 0;
    const walk = white.map((value) => {
      sum += value;
      return sum;
    });
    const found = featuresOf(walk, 1);
    expect(found.whiteUntil_s).toBeUndefined();
    expect(found.whiteDensity_per_sqrtHz).toBeUndefined();
    expect(found.best.factor).toBe(1);
  });

  it("refuses short curves and values that repeat", () => {
    expect(() => featuresOf(white.slice(0, 8), 1)).toThrow(/three averaging times/);
    expect(() => featuresOf(new Float64Array(100), 1)).toThrow(/repeat/);
  });
});
