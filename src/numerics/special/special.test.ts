import { describe, expect, it } from "vitest";
import { betaQuantile } from "./beta-quantile.js";
import { chiSquareCdf, chiSquareQuantile } from "./chi-square.js";
import { erf, erfc } from "./erf.js";
import { incompleteBeta } from "./incomplete-beta.js";
import { incompleteGamma } from "./incomplete-gamma.js";
import { logGamma } from "./log-gamma.js";
import { logOnePlusMinus } from "./log1p-minus.js";
import { normalCdf, normalPdf, normalQuantile } from "./normal.js";
import { studentTCdf, studentTQuantile } from "./student-t.js";

describe("edges return values, NaN stays NaN", () => {
  it("erf and erfc", () => {
    expect([erf(Infinity), erf(-Infinity), erf(0), erfc(Infinity), erfc(-Infinity), erfc(0)]).toEqual([
      1, -1, 0, 0, 2, 1,
    ]);
    expect([erf(NaN), erfc(NaN)]).toEqual([NaN, NaN]);
    expect(erfc(27)).toBeGreaterThanOrEqual(0);
  });
  it("normal distribution", () => {
    expect([normalCdf(-Infinity), normalCdf(Infinity), normalCdf(0)]).toEqual([0, 1, 0.5]);
    expect([normalQuantile(0), normalQuantile(1), normalQuantile(0.5)]).toEqual([-Infinity, Infinity, 0]);
    expect([normalQuantile(-0.1), normalQuantile(1.1), normalQuantile(NaN)]).toEqual([NaN, NaN, NaN]);
    expect(normalPdf(0)).toBeCloseTo(1 / Math.sqrt(2 * Math.PI), 15);
  });
  it("log-gamma", () => {
    expect([logGamma(0), logGamma(1), logGamma(2), logGamma(-1), logGamma(NaN), logGamma(Infinity)]).toEqual([
      Infinity,
      0,
      0,
      NaN,
      NaN,
      Infinity,
    ]);
  });
  it("incomplete functions and quantiles", () => {
    expect(incompleteBeta([2, 3], 0)).toEqual({ lower: 0, upper: 1 });
    expect(incompleteBeta([2, 3], 1)).toEqual({ lower: 1, upper: 0 });
    expect(incompleteBeta([-1, 3], 0.5).lower).toBeNaN();
    expect(incompleteGamma(2, Infinity)).toEqual({ lower: 1, upper: 0 });
    expect(incompleteGamma(2, -1).lower).toBeNaN();
    expect([studentTQuantile(0, 3), studentTQuantile(1, 3), studentTQuantile(0.5, 3)]).toEqual([
      -Infinity,
      Infinity,
      0,
    ]);
    expect([
      chiSquareQuantile(0, 3),
      chiSquareQuantile(1, 3),
      betaQuantile(0, [1, 2]),
      betaQuantile(1, [1, 2]),
    ]).toEqual([0, Infinity, 0, 1]);
    expect([studentTQuantile(2, 3), chiSquareQuantile(0.5, -1), betaQuantile(0.5, [0, 1])]).toEqual([NaN, NaN, NaN]);
    expect([studentTCdf(Infinity, 3), studentTCdf(-Infinity, 3)]).toEqual([1, 0]);
  });
});

describe("closed forms", () => {
  it("Γ(n) = (n−1)!, Γ(½) = √π", () => {
    expect(logGamma(11)).toBeCloseTo(Math.log(3628800), 13);
    expect(logGamma(0.5)).toBeCloseTo(Math.log(Math.PI) / 2, 15);
  });
  it("t with 1 and 2 degrees of freedom", () => {
    expect(studentTCdf(1, 1)).toBeCloseTo(0.75, 15);
    expect(studentTQuantile(0.75, 1)).toBeCloseTo(1, 14);
    expect(studentTCdf(Math.SQRT2, 2)).toBeCloseTo(0.5 + 0.5 / Math.SQRT2, 14);
  });
  it("χ² with 2 degrees of freedom is exponential", () => {
    expect(chiSquareCdf(3, 2).upper).toBeCloseTo(Math.exp(-1.5), 15);
    expect(chiSquareQuantile(0.95, 2)).toBeCloseTo(-2 * Math.log(0.05), 13);
  });
  it("beta(1, b): 1 − (1 − x)^b; Clopper-Pearson for 0 of 20", () => {
    expect(incompleteBeta([1, 20], 0.1).lower).toBeCloseTo(1 - 0.9 ** 20, 14);
    expect(betaQuantile(0.975, [1, 20])).toBeCloseTo(1 - 0.025 ** (1 / 20), 14);
  });
  it("ln(1+u) − u near 0 is −u²/2 + u³/3", () => {
    expect(logOnePlusMinus(1e-8) / (-0.5e-16 + 1e-24 / 3)).toBeCloseTo(1, 14);
    expect(logOnePlusMinus(1)).toBeCloseTo(Math.LN2 - 1, 15);
  });
});
