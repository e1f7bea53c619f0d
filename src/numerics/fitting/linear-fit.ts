import { FerruleError } from "../../errors.js";
import { finiteArray, positiveArray } from "./problem.js";

export interface LineFit {
  readonly intercept: number;
  readonly slope: number;
  readonly interceptStandardError: number;
  readonly slopeStandardError: number;
  /** Of (intercept, slope), row-major, [2, 2], scaled as `covarianceScale` says. */
  readonly covariance: Float64Array;
  readonly covarianceScale: "absolute" | "reduced-chi-squared";
  /** √(χ²/dof): the residual standard deviation s_y when no sigma was given, else a factor on sigma near 1. */
  readonly residualScale: number;
  readonly correlation: number;
  readonly residuals: Float64Array;
  readonly degreesOfFreedom: number;
  readonly chiSquared: number;
  /** Σw, weighted means and Σw·(x − x̄)²: what an inverse prediction needs. */
  readonly weightSum: number;
  readonly xMean: number;
  readonly yMean: number;
  readonly sxx: number;
}

/**
 * Weighted straight line y = a + b·x.
 *   w = 1/σ² (or 1);  b = Σw(x−x̄)(y−ȳ)/S_xx;  a = ȳ − b·x̄;  S_xx = Σw(x−x̄)²
 *   var b = f/S_xx,  var a = f·(1/Σw + x̄²/S_xx),  cov = −f·x̄/S_xx;  f = 1 (absolute) or χ²/(n−2)
 *
 * @param x  [n], at least two different values, n >= 3 (a residual must exist)
 * @param y  [n]
 * @param options.sigma  standard deviation of each y, [n]; absent: equal and unknown
 * @param options.covarianceScale  default absolute when sigma is given (see `LeastSquaresOptions`)
 *
 * Source      Miller & Miller, Statistics and Chemometrics for Analytical Chemistry (from memory; facts Q7, W32)
 * Checked by  checks/least-squares (W32; the general fit)
 */
export function fitLine(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  {
    sigma,
    covarianceScale = sigma === undefined ? "reduced-chi-squared" : "absolute",
  }: { sigma?: ArrayLike<number>; covarianceScale?: LineFit["covarianceScale"] } = {},
): LineFit {
  const n = x.length;
  const xs = finiteArray(x, n, "x");
  const ys = finiteArray(y, n, "y");
  const w = (sigma === undefined ? new Float64Array(n).fill(1) : positiveArray(sigma, n, "sigma")).map(
    (s) => 1 / s ** 2,
  );
  const sum = (term: (i: number) => number) => w.reduce((total, weight, i) => total + weight * term(i), 0);
  const weightSum = sum(() => 1);
  const xMean = sum((i) => xs[i]) / weightSum;
  const yMean = sum((i) => ys[i]) / weightSum;
  const sxx = sum((i) => (xs[i] - xMean) ** 2);
  const syy = sum((i) => (ys[i] - yMean) ** 2);
  const sxy = sum((i) => (xs[i] - xMean) * (ys[i] - yMean));
  if (n < 3 || !(sxx > 1e-24 * weightSum * xMean ** 2))
    throw new FerruleError("NotIdentifiable", {
      path: "x",
      found: n < 3 ? `${n} points` : `the same x for all ${n} points`,
      accepted: "at least three points at two or more different x, e.g. x = 0, 1, 2",
    });
  const slope = sxy / sxx;
  const residuals = ys.map((value, i) => value - yMean - slope * (xs[i] - xMean));
  const chiSquared = sum((i) => residuals[i] ** 2);
  const factor = covarianceScale === "absolute" ? 1 : chiSquared / (n - 2);
  const covariance = Float64Array.of(1 / weightSum + xMean ** 2 / sxx, -xMean / sxx, -xMean / sxx, 1 / sxx).map(
    (value) => value * factor,
  );
  return {
    intercept: yMean - slope * xMean,
    slope,
    interceptStandardError: Math.sqrt(covariance[0]),
    slopeStandardError: Math.sqrt(covariance[3]),
    covariance,
    covarianceScale,
    residualScale: Math.sqrt(chiSquared / (n - 2)),
    correlation: sxy / Math.sqrt(sxx * syy),
    residuals,
    degreesOfFreedom: n - 2,
    chiSquared,
    weightSum,
    xMean,
    yMean,
    sxx,
  };
}
