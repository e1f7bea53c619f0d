import { describe, expect, it } from "vitest";
import { isKnownError } from "../../errors.js";
import { solveSquare } from "./solve-square.js";

describe("solveSquare", () => {
  it("needs its pivoting: a zero on the diagonal", () => {
    expect([...(solveSquare(Float64Array.of(0, 2, 3, 0), Float64Array.of(4, 9)) ?? [])]).toEqual([3, 2]);
  });

  it("inverts the 5 x 5 Hilbert matrix, whose inverse is known in integers", () => {
    const n = 5;
    const hilbert = Float64Array.from({ length: n * n }, (_, k) => 1 / (Math.floor(k / n) + (k % n) + 1));
    const firstColumn = solveSquare(hilbert, Float64Array.of(1, 0, 0, 0, 0)) ?? [];
    [25, -300, 1050, -1400, 630].forEach((value, i) => {
      expect(Math.abs(firstColumn[i] / value - 1)).toBeLessThan(1e-10); // condition number 5e5 times rounding
    });
  });

  it("leaves its arguments alone, says when a matrix is singular, refuses a shape that does not fit", () => {
    const a = Float64Array.of(1, 2, 2, 4);
    expect(solveSquare(a, Float64Array.of(1, 1))).toBeUndefined();
    expect([...a]).toEqual([1, 2, 2, 4]);
    try {
      solveSquare(a, new Float64Array(3));
      expect.unreachable();
    } catch (error) {
      expect(isKnownError(error, "ShapeMismatch")).toBe(true);
    }
  });
});
