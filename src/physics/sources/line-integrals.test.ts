import { describe, expect, it } from "vitest";
import { alongLine, inverseCube, inverseDistance } from "./line-integrals.js";

describe("integrals along a line", () => {
  it("before the middle: closed forms", () => {
    expect(inverseCube(1, 1, 1)).toBeCloseTo(Math.SQRT2, 15);
    expect(alongLine(1, 1, 1)).toBe(0);
    expect(inverseDistance(1, 1, 1)).toBeCloseTo(2 * Math.asinh(1), 15);
  });

  it("on the extension: ∫ ds/s³, 1/r2 − 1/r1, ∫ ds/s", () => {
    expect(inverseCube(0, 3, -1)).toBeCloseTo((1 - 1 / 9) / 2, 15);
    expect(alongLine(0, 3, -1)).toBeCloseTo(1 - 1 / 3, 15);
    expect(inverseDistance(0, 3, -1)).toBeCloseTo(Math.log(3), 15);
  });

  it("on the line itself they are infinite", () => {
    expect(inverseCube(0, 1, 1)).toBe(Number.POSITIVE_INFINITY);
    expect(inverseDistance(0, 1, 1)).toBe(Number.POSITIVE_INFINITY);
  });

  it("keep their digits beside the line: ∫ ds/R ≈ ln(4 s1 s2/d2)", () => {
    expect(inverseDistance(1e-24, 1, 1)).toBeCloseTo(Math.log(4e24), 12);
  });

  it("are additive when the line is cut", () => {
    for (const f of [inverseCube, alongLine, inverseDistance])
      expect(f(0.04, 1.5, -0.5)).toBeCloseTo(f(0.04, 1.5, -1) + f(0.04, 1, -0.5), 12);
  });
});
