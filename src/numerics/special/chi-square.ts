import { incompleteGamma } from "./incomplete-gamma.js";
import { normalQuantile } from "./normal.js";
import { solveQuantile } from "./solve-quantile.js";

/**
 * Cumulative χ² distribution, both tails.
 *   P(X <= x) = P(ν/2, x/2)
 *
 * @param x  >= 0
 * @param degreesOfFreedom  ν > 0
 *
 * Source      definition
 * Checked by  checks/special-functions
 */
export function chiSquareCdf(x: number, degreesOfFreedom: number): { readonly lower: number; readonly upper: number } {
  return incompleteGamma(degreesOfFreedom / 2, x / 2);
}

/**
 * Quantile of the χ² distribution (Garwood's exact Poisson limits are half of one).
 *
 * @param p  probability of a smaller value; 0 gives 0, 1 gives Infinity, outside [0, 1] NaN
 *
 * Valid for   ν from 0.5 to 1e3 (checked), p from 1e-6; relative error below 1e-13 (measured 5e-15).
 * Source      inversion of `chiSquareCdf` (Brent in ln x)
 * Checked by  checks/special-functions
 */
export function chiSquareQuantile(p: number, degreesOfFreedom: number): number {
  if (!(p >= 0 && p <= 1 && degreesOfFreedom > 0)) return Number.NaN;
  if (p === 0) return 0;
  if (p === 1) return Number.POSITIVE_INFINITY;
  const c = 2 / (9 * degreesOfFreedom);
  const cube = (1 - c + normalQuantile(p) * Math.sqrt(c)) ** 3; // Wilson & Hilferty: only a first guess
  const guess = Math.log(degreesOfFreedom * Math.max(cube, 1e-3));
  const at = (s: number) => chiSquareCdf(Math.exp(s), degreesOfFreedom);
  const excess =
    p <= 0.5
      ? (s: number) => Math.log(at(s).lower) - Math.log(p)
      : (s: number) => Math.log1p(-p) - Math.log(at(s).upper);
  return Math.exp(solveQuantile(excess, guess));
}
