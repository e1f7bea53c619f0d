import { describe, expect, it } from "vitest";
import { stream } from "../../numerics/index.js";
import { constantLimits } from "./constant-limits.js";

describe("limits for a constant standard uncertainty", () => {
  it("1.645, 3.29 and 10 times a known one (facts Q6)", () => {
    const { critical, detection, quantification } = constantLimits(2);
    expect(critical / 2).toBeCloseTo(1.644854, 6);
    expect(detection / 2).toBeCloseTo(3.289707, 6);
    expect(quantification).toBe(20);
  });

  it("few blanks: t and sqrt(1 + 1/n); 5 blanks 2.335 s, not 1.645 s", () => {
    // t_(0.95, 4) = 2.131847, standard tables.
    const { critical, detection } = constantLimits(1, { degreesOfFreedom: 4, blanks: 5 });
    expect(critical).toBeCloseTo(2.131847 * Math.sqrt(1.2), 6);
    expect(detection).toBeCloseTo(2 * critical, 12);
  });

  it("5 % false calls and 5 % misses, 20000 simulated results each (4 binomial sd: 0.6 %)", () => {
    const { critical, detection } = constantLimits(1);
    const random = stream(20261125, 1);
    const share = (truth: number, isWrong: (x: number) => boolean) => {
      let wrong = 0;
      for (let i = 0; i < 20_000; i++) if (isWrong(truth + random.normal())) wrong++;
      return wrong / 20_000;
    };
    expect(Math.abs(share(0, (x) => x > critical) - 0.05)).toBeLessThan(0.0062);
    expect(Math.abs(share(detection, (x) => x <= critical) - 0.05)).toBeLessThan(0.0062);
  });

  it("5 % false calls with 5 blanks, s estimated from them", () => {
    const random = stream(20261125, 2);
    let wrong = 0;
    for (let i = 0; i < 20_000; i++) {
      const blanks = Float64Array.from({ length: 5 }, () => random.normal());
      const mean = blanks.reduce((sum, x) => sum + x, 0) / 5;
      const s = Math.sqrt(blanks.reduce((sum, x) => sum + (x - mean) ** 2, 0) / 4);
      if (random.normal() - mean > constantLimits(s, { degreesOfFreedom: 4, blanks: 5 }).critical) wrong++;
    }
    expect(Math.abs(wrong / 20_000 - 0.05)).toBeLessThan(0.0062);
  });

  it("refuses a negative uncertainty, rates of one half, no blanks", () => {
    expect(() => constantLimits(-1)).toThrow(/standardUncertainty/);
    expect(() => constantLimits(1, { alpha: 0.5 })).toThrow(/alpha/);
    expect(() => constantLimits(1, { blanks: 0 })).toThrow(/blanks/);
    expect(() => constantLimits(1, { degreesOfFreedom: 0 })).toThrow(/degreesOfFreedom/);
  });
});
