import type { FitOutcome, RunsTest } from "../../numerics/index.js";
import type { FitAdvisory } from "./fit-advisory.js";
import type { FitParameter } from "./fit-result.js";

/** chi2/dof outside these says that sigma is not the scatter about the model; either is far beyond chance at 20 dof. */
const reducedChiSquaredRange = { low: 0.5, high: 2 } as const;
/** A runs test this improbable is not chance. */
const runsLevel = 0.01;
/** Above this a parameter's value is little more than a statement about another's. */
const correlationLimit = 0.95;

export interface FitNumbers {
  readonly parameters: readonly FitParameter[];
  /** Row-major, [p, p]. */
  readonly correlation: Float64Array;
  readonly outcome: FitOutcome;
  readonly reason: string;
  readonly reducedChiSquared: number;
  readonly runs: RunsTest;
  readonly lag1: number;
  readonly residualScale: number;
  readonly hasSigma: boolean;
  /** Names of parameters that the data do not determine. */
  readonly undetermined: readonly string[];
  /** Parameters that the caller held on purpose. */
  readonly held: readonly string[];
}

const advisory = (code: FitAdvisory["code"], message: string): FitAdvisory => ({ code, message });
const short = (value: number): string => value.toPrecision(2);

const notStatistical = "the quoted uncertainties and covariance are not trustworthy as statistical ones";

/** What sigma and the residuals say about each other. */
export function noiseAdvisories({ reducedChiSquared, runs, lag1, residualScale, hasSigma }: FitNumbers): FitAdvisory[] {
  const areCorrelated = runs.isInformative && runs.pTwoSided < runsLevel;
  const isSmall = hasSigma && reducedChiSquared < reducedChiSquaredRange.low;
  const isLarge = hasSigma && reducedChiSquared > reducedChiSquaredRange.high;
  const list: FitAdvisory[] = [];
  const runsText = `${runs.runs} runs of sign where ${runs.expectedRuns.toFixed(1)} are expected (p = ${short(runs.pTwoSided)}), lag-1 correlation ${lag1.toFixed(2)}`;
  if (hasSigma && (isSmall || areCorrelated)) {
    const why = [
      isSmall ? `chi2/dof is ${short(reducedChiSquared)}` : "",
      areCorrelated ? `the residuals are correlated (${runsText})` : "",
    ].filter((part) => part !== "");
    list.push(
      advisory(
        "sigma-not-independent-noise",
        `the sd column is not independent noise: ${why.join(" and ")}; ${notStatistical}`,
      ),
    );
  }
  if (areCorrelated) {
    const scale = `Were the residuals first-order autoregressive noise, uncertainties would be about ${short(residualScale)} times those quoted`;
    const text = `the model does not describe the curve to within its scatter: ${runsText}. ${scale}`;
    list.push(advisory("correlated-residuals", text));
  }
  if (!hasSigma) {
    const text =
      "the file has no sd column: all values count alike, uncertainties follow the scatter of the residuals, and chi2/dof is 1 by construction (it says nothing about the fit)";
    list.push(advisory("no-sigma", text));
  }
  if (isLarge) {
    const text = `chi2/dof is ${short(reducedChiSquared)}: the sd column is too small or the model does not fit; ${notStatistical}`;
    list.push(advisory("sigma-too-small", text));
  }
  return list;
}

/** What the fit says of its parameters: early end, floating, at a bound, strongly correlated. */
export function parameterAdvisories({
  parameters,
  correlation,
  outcome,
  reason,
  held,
  undetermined,
}: FitNumbers): FitAdvisory[] {
  const p = parameters.length;
  const list: FitAdvisory[] = [];
  if (outcome !== "converged") list.push(advisory("not-converged", `the fit ended early (${outcome}): ${reason}`));
  if (undetermined.length > 0) {
    const text = `the data do not determine ${undetermined.join(", ")} (uncertainty above the value, or none at all); a wider range of fields, or holding one of them, would`;
    list.push(advisory("not-identifiable", text));
  }
  for (const { name, value, atBound } of parameters) {
    if (!atBound || held.includes(name)) continue;
    const text = `${name} ended at its bound (${value.toPrecision(4)}): it has no two-sided uncertainty, and those of the others hold for this value`;
    list.push(advisory("at-bound", text));
  }
  for (let a = 0; a < p; a++)
    for (let b = a + 1; b < p; b++) {
      const r = correlation[a * p + b];
      if (!(Math.abs(r) > correlationLimit)) continue;
      const text = `${parameters[a].name} and ${parameters[b].name} are correlated by ${r.toFixed(3)}: use them together, with their covariance`;
      list.push(advisory("strongly-correlated-parameters", text));
    }
  return list;
}
