import { chiSquareCdf, incompleteBeta, type LeastSquaresResult } from "../../numerics/index.js";
import type { FitAdvisory } from "./fit-advisory.js";

/** Does the curve need one more population? */
export interface PopulationComparison {
  readonly fewer: FitSummary;
  readonly more: FitSummary;
  readonly extraParameters: number;
  /** Probability of so large a fall of chi2 by chance, sigma believed; absent without sigma. Nominal, see `caution`. */
  readonly pBySigma?: number;
  /** The same from the ratio of scatters (F test), which needs no sigma. Nominal as well. */
  readonly pByScatter: number;
  readonly verdict: "needed" | "not-needed" | "undecided";
  readonly message: string;
  readonly caution: string;
}

export interface FitSummary {
  readonly populations: number;
  readonly chiSquared: number;
  readonly parameters: number;
  /** Akaike's criterion with the small-sample term; differences below about 4 decide nothing. */
  readonly aicc: number;
}

/** Below this a population is called needed. */
const neededLevel = 0.01;

/**
 * Compares a mixture with one of fewer populations on the same curve.
 *   with sigma     chi2_fewer - chi2_more against chi2 with the extra parameters
 *   by scatter     F = ((chi2_fewer - chi2_more) / extra) / (chi2_more / dof)
 * The verdict follows sigma where chi2/dof of the larger model bears it out (0.5 to 2), else both must agree.
 *
 * Both probabilities are nominal: without the population its size means nothing and its share lies at a bound, so that the
 * fall of chi2 does not follow chi2 exactly. Measured (campaigns/tracer-parameter-coverage): at the level of 0.01, one
 * population is called two in 0.4 % of honest curves.
 *
 * Source      Davies, Biometrika 64:247 (1977), for what fails at the bound; Burnham & Anderson, Model Selection (2002),
 *             for AICc; from memory
 */
export function comparePopulations(
  fewer: LeastSquaresResult,
  more: LeastSquaresResult,
  { hasSigma }: { hasSigma: boolean },
): PopulationComparison {
  const n = more.predicted.length;
  const extra = more.names.length - fewer.names.length;
  const dof = n - more.names.length;
  const fall = Math.max(0, fewer.chiSquared - more.chiSquared);
  const pBySigma = chiSquareCdf(fall, extra).upper;
  const f = fall / extra / (more.chiSquared / dof);
  const pByScatter = more.chiSquared > 0 ? incompleteBeta([dof / 2, extra / 2], dof / (dof + extra * f)).lower : 0;
  const isBelieved = hasSigma && more.chiSquared / dof > 0.5 && more.chiSquared / dof < 2;
  const [bySigma, byScatter] = [pBySigma < neededLevel, pByScatter < neededLevel];
  const verdict = verdictOf({ hasSigma, isBelieved, bySigma, byScatter });
  const summary = (fit: LeastSquaresResult): FitSummary => ({
    populations: (fit.names.length - 1) / 3,
    chiSquared: fit.chiSquared,
    parameters: fit.names.length,
    aicc: aicc(fit, hasSigma),
  });
  const comparison = { fewer: summary(fewer), more: summary(more), extraParameters: extra, pByScatter, verdict };
  const probability = `${hasSigma ? `p = ${pBySigma.toPrecision(2)} by sigma, ` : ""}p = ${pByScatter.toPrecision(2)} by scatter`;
  return {
    ...comparison,
    ...(hasSigma ? { pBySigma } : {}),
    message: `${words(verdict, comparison.more.populations)} (${probability})`,
    caution: "probabilities are nominal: the share of an absent population lies at its bound",
  };
}

function verdictOf(tests: {
  hasSigma: boolean;
  isBelieved: boolean;
  bySigma: boolean;
  byScatter: boolean;
}): PopulationComparison["verdict"] {
  const { hasSigma, isBelieved, bySigma, byScatter } = tests;
  const decided = (isNeeded: boolean) => (isNeeded ? "needed" : "not-needed");
  if (!hasSigma) return decided(byScatter);
  if (isBelieved || bySigma === byScatter) return decided(bySigma);
  return "undecided";
}

const ordinals = ["", "", "second", "third"];

function words(verdict: PopulationComparison["verdict"], populations: number): string {
  const which = `a ${ordinals[populations]} population`;
  if (verdict === "needed") return `the curve calls for ${which}`;
  if (verdict === "not-needed") return `${which} is not needed: fewer describe the curve as well`;
  return `whether ${which} is needed cannot be said: the sd column and the scatter about the fit disagree`;
}

/** The advisory of a comparison, where there is something to heed. */
export function comparisonAdvisories({ verdict, message, caution }: PopulationComparison): FitAdvisory[] {
  return verdict === "needed" ? [] : [{ code: "second-population", message: `${message}; ${caution}` }];
}

function aicc({ chiSquared, predicted, names }: LeastSquaresResult, hasSigma: boolean): number {
  const [n, p] = [predicted.length, names.length];
  const k = hasSigma ? p : p + 1; // the scatter is fitted as well
  const misfit = hasSigma ? chiSquared : n * Math.log(chiSquared / n);
  return misfit + 2 * k + (2 * k * (k + 1)) / (n - k - 1);
}
