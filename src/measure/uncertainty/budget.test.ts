import { describe, expect, it } from "vitest";
import { combine } from "./budget.js";

const line = (standardUncertainty: number, degreesOfFreedom = Number.POSITIVE_INFINITY) => ({
  standardUncertainty,
  degreesOfFreedom,
});

describe("combining contributions", () => {
  it("is the root of the sum of squares", () => {
    expect(combine([line(3), line(4)]).standardUncertainty).toBe(5);
    expect(combine([line(3), line(0)]).standardUncertainty).toBe(3);
  });

  it("of a gauge block (JCGM 100 annex H.1, from memory): 32 nm with 16 degrees of freedom", () => {
    // Calibration of the standard 25 nm (18), measured difference 9.7 nm (25.6), expansion 2.9 nm (50), temperature 16.6 nm (2).
    const { standardUncertainty, effectiveDegreesOfFreedom } = combine([
      line(25, 18),
      line(9.7, 25.6),
      line(2.9, 50),
      line(16.6, 2),
    ]);
    expect(Math.round(standardUncertainty)).toBe(32);
    expect(Math.floor(effectiveDegreesOfFreedom)).toBe(16);
  });

  it("keeps the degrees of freedom of one contribution, and adds those of equals", () => {
    expect(combine([line(2, 7)]).effectiveDegreesOfFreedom).toBeCloseTo(7, 12);
    expect(combine([line(2, 7), line(2, 7), line(2, 7)]).effectiveDegreesOfFreedom).toBeCloseTo(21, 12);
    expect(combine([line(2, 7), line(1e-9, 1)]).effectiveDegreesOfFreedom).toBeCloseTo(7, 6);
  });

  it("is unlimited where nothing was estimated from few data, and for nothing at all", () => {
    expect(combine([line(1), line(2)]).effectiveDegreesOfFreedom).toBe(Number.POSITIVE_INFINITY);
    expect(combine([])).toEqual({ standardUncertainty: 0, effectiveDegreesOfFreedom: Number.POSITIVE_INFINITY });
    expect(combine([line(0, 3)]).effectiveDegreesOfFreedom).toBe(Number.POSITIVE_INFINITY);
  });

  it("lies between the smallest and the sum of the degrees of freedom", () => {
    const { effectiveDegreesOfFreedom } = combine([line(1, 4), line(2, 9), line(0.5, 30)]);
    expect(effectiveDegreesOfFreedom).toBeGreaterThanOrEqual(4);
    expect(effectiveDegreesOfFreedom).toBeLessThanOrEqual(43);
  });

  it("does not hide what is unknown: NaN stays NaN", () => {
    expect(combine([line(1), line(Number.NaN)]).standardUncertainty).toBeNaN();
  });
});
