import { FerruleError } from "../../errors.js";
import { normalCdf } from "../special/normal.js";

export interface RunsTest {
  readonly runs: number;
  readonly positive: number;
  readonly negative: number;
  readonly expectedRuns: number;
  /** Probability of this few runs or fewer: small means neighbours agree too often (a systematic misfit). */
  readonly pTooFew: number;
  /** Probability of this many runs or more: small means neighbours alternate. */
  readonly pTooMany: number;
  /** Twice the smaller tail, at most 1. */
  readonly pTwoSided: number;
  readonly method: "exact" | "normal";
  /** False when all signs agree: given the counts, only one arrangement exists and the test says nothing. */
  readonly isInformative: boolean;
}

/**
 * Wald-Wolfowitz runs test of the signs of residuals.
 * Given n1 positive and n2 negative signs in random order, the number of runs R has
 *   P(R = 2k) = 2·C(n1−1, k−1)·C(n2−1, k−1)/C(n1+n2, n1)
 *   P(R = 2k+1) = [C(n1−1, k)·C(n2−1, k−1) + C(n1−1, k−1)·C(n2−1, k)]/C(n1+n2, n1)
 *
 * @param residuals  in the order of the independent variable; zeros carry no sign and are left out
 * @param options.exactUpTo  largest n1 + n2 for the exact sum; above it a normal approximation with a continuity
 *                           correction (mean 1 + 2n1n2/n, variance (mean−1)(mean−2)/(n−1))
 *
 * Valid for   independent residuals of a fit with few parameters (fitting makes runs slightly shorter).
 * Source      Wald & Wolfowitz, Ann. Math. Stat. 11:147 (1940); formula from memory, confirmed by enumeration.
 * Checked by  runs-test.test.ts (every arrangement counted by brute force)
 */
export function runsTest(residuals: ArrayLike<number>, { exactUpTo = 1000 }: { exactUpTo?: number } = {}): RunsTest {
  const signs = Array.from(residuals, signOf).filter((sign) => sign !== 0);
  const positive = signs.filter((sign) => sign > 0).length;
  const negative = signs.length - positive;
  const runs = signs.filter((sign, i) => i === 0 || sign !== signs[i - 1]).length;
  const isInformative = positive > 0 && negative > 0;
  const method = signs.length <= exactUpTo ? "exact" : "normal";
  const tails = !isInformative
    ? { pTooFew: 1, pTooMany: 1 }
    : method === "exact"
      ? exactTails(runs, positive, negative)
      : normalTails(runs, positive, negative);
  return {
    runs,
    positive,
    negative,
    expectedRuns: signs.length === 0 ? 0 : 1 + (2 * positive * negative) / signs.length,
    ...tails,
    pTwoSided: Math.min(1, 2 * Math.min(tails.pTooFew, tails.pTooMany)),
    method,
    isInformative,
  };
}

function signOf(value: number, index: number): number {
  if (!Number.isNaN(value)) return Math.sign(value);
  throw new FerruleError("InvalidValue", {
    path: `residuals[${index}]`,
    found: "NaN",
    accepted: "a number whose sign is known, e.g. -0.3",
  });
}

function exactTails(runs: number, n1: number, n2: number) {
  const log = logFactorials(n1 + n2);
  const logChoose = (n: number, k: number) =>
    k < 0 || k > n ? Number.NEGATIVE_INFINITY : log[n] - log[k] - log[n - k];
  const total = logChoose(n1 + n2, n1);
  const product = (i: number, j: number) => Math.exp(logChoose(n1 - 1, i) + logChoose(n2 - 1, j) - total);
  const probability = (r: number) => {
    const k = Math.floor(r / 2);
    return r % 2 === 0 ? 2 * product(k - 1, k - 1) : product(k, k - 1) + product(k - 1, k);
  };
  let pTooFew = 0;
  let pTooMany = 0;
  for (let r = 2; r <= n1 + n2; r++) {
    if (r <= runs) pTooFew += probability(r);
    if (r >= runs) pTooMany += probability(r);
  }
  return { pTooFew: Math.min(1, pTooFew), pTooMany: Math.min(1, pTooMany) };
}

function logFactorials(n: number): Float64Array {
  const log = new Float64Array(n + 1);
  for (let i = 2; i <= n; i++) log[i] = log[i - 1] + Math.log(i);
  return log;
}

function normalTails(runs: number, n1: number, n2: number) {
  const n = n1 + n2;
  const mean = 1 + (2 * n1 * n2) / n;
  const sd = Math.sqrt(((mean - 1) * (mean - 2)) / (n - 1));
  return { pTooFew: normalCdf((runs + 0.5 - mean) / sd), pTooMany: normalCdf(-(runs - 0.5 - mean) / sd) };
}
