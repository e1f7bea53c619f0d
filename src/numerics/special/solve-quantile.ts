import { bracketRoot } from "../roots/bracket.js";
import { findRoot } from "../roots/brent.js";

/**
 * Where a rising function of an unbounded variable crosses zero; quantiles are found in the logarithm (or logit) of
 * their variable, so that one absolute tolerance serves 1e-300 and 1e300 alike.
 *
 * @param excess  rising in s, e.g. ln cdf(exp s) − ln p
 * @param guess  first s
 */
export function solveQuantile(excess: (s: number) => number, guess: number): number {
  // Far outside, a probability underflows: a huge excess of the right sign keeps the search going.
  const bounded = (s: number) => Math.max(-1e6, Math.min(1e6, excess(s)));
  const bracket = bracketRoot(bounded, [guess - 0.5, guess + 0.5], { lower: -1500, upper: 1500 });
  if (bracket === undefined) return Number.NaN;
  return findRoot(bounded, bracket, { absolute: 1e-16 }).root;
}
