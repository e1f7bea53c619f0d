import { describe, expect, it } from "vitest";
import { isKnownError } from "../../errors.js";
import { choleskyFactor, choleskyInverse, choleskySolve } from "./cholesky.js";

describe("Cholesky", () => {
  it("factors a worked 3 x 3 matrix exactly", () => {
    const l = choleskyFactor(Float64Array.of(4, 12, -16, 12, 37, -43, -16, -43, 98), 3);
    expect(Array.from(l ?? [])).toEqual([2, 0, 0, 6, 1, 0, -8, 5, 3]);
  });

  it("inverts the Hilbert matrix of order 4 to its integer inverse", () => {
    const hilbert = Float64Array.from({ length: 16 }, (_, k) => 1 / (Math.floor(k / 4) + (k % 4) + 1));
    const inverse = choleskyInverse(choleskyFactor(hilbert, 4)!, 4);
    const exact = [16, -120, 240, -140, -120, 1200, -2700, 1680, 240, -2700, 6480, -4200, -140, 1680, -4200, 2800];
    // Condition 1.6e4 times rounding: 4e-12 relative.
    for (const [k, value] of exact.entries()) expect(Math.abs(inverse[k] / value - 1)).toBeLessThan(1e-11);
  });

  it("solves in place", () => {
    const l = choleskyFactor(Float64Array.of(2, 1, 1, 3), 2)!;
    const b = Float64Array.of(4, 7);
    expect(choleskySolve(l, b, b)).toBe(b);
    expect(b[0]).toBeCloseTo(1, 14);
    expect(b[1]).toBeCloseTo(2, 14);
  });

  it.each([
    ["indefinite", [1, 2, 2, 1]],
    ["singular", [1, 1, 1, 1]],
    ["NaN", [Number.NaN, 0, 0, 1]],
    ["infinite", [Number.POSITIVE_INFINITY, 0, 0, 1]],
  ])("has no factor of a matrix that is %s", (_, entries) => {
    expect(choleskyFactor(Float64Array.from(entries), 2)).toBeUndefined();
  });

  it("refuses a matrix that is not square", () => {
    expect(() => choleskyFactor(new Float64Array(6), 2)).toThrow(/6 elements for order 2/);
    try {
      choleskyFactor(new Float64Array(6), 2);
    } catch (error) {
      expect(isKnownError(error, "ShapeMismatch")).toBe(true);
    }
  });
});
