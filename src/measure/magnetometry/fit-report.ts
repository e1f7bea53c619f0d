import { type LeastSquaresResult, lagOneAutocorrelation, runsTest } from "../../numerics/index.js";
import { type FitNumbers, noiseAdvisories, parameterAdvisories } from "./fit-advisories.js";
import type { FitAdvisory } from "./fit-advisory.js";
import type { DerivedValue, FitParameter, TracerFit } from "./fit-result.js";
import { findOutliers, outlierAdvisories } from "./outliers.js";

/** Parameters of a fit with their covariance, after any change of variables. */
export interface FittedParameters {
  readonly names: readonly string[];
  readonly values: ArrayLike<number>;
  readonly units: readonly string[];
  readonly atBound: readonly boolean[];
  /** Row-major, [p, p]; NaN for a parameter without a two-sided uncertainty. */
  readonly covariance: Float64Array;
  /** Where it is known already; else it is formed from the covariance. */
  readonly correlation?: Float64Array;
}

/** What a report needs of a solver's end. */
export type FitEnd = Pick<
  LeastSquaresResult,
  | "names"
  | "atBound"
  | "covariance"
  | "standardErrors"
  | "weightedJacobian"
  | "predicted"
  | "residuals"
  | "normalisedResiduals"
  | "reducedChiSquared"
  | "degreesOfFreedom"
  | "outcome"
  | "reason"
>;

export interface FitDescription {
  readonly model: string;
  readonly equation: string;
  readonly weighting: "number" | "volume";
  readonly parameters: FittedParameters;
  readonly derived: readonly DerivedValue[];
  readonly hasSigma: boolean;
  /** Unit of the data. */
  readonly dataUnit: string;
  /** Parameters that the data do not determine. */
  readonly undetermined: readonly string[];
  /** Parameters that the caller held on purpose. */
  readonly held: readonly string[];
  /** What is said of a row, e.g. "row 3 (20 mT)". */
  readonly rowName: (row: number) => string;
  /** Advisories of the model and of the data's origin, which come after those of the numbers. */
  readonly advisories: (numbers: FitNumbers) => readonly FitAdvisory[];
}

/** Parameters as the least-squares solver has them, with units. */
export function plainParameters(fit: LeastSquaresResult, units: readonly string[]): FittedParameters {
  const { names, parameters: values, atBound, covariance, correlation } = fit;
  return { names, values, units, atBound, covariance, correlation };
}

/**
 * The one shape of every fit: parameters and derived values, what the residuals say, and the advisories, gravest first.
 *
 * Source      residual tests as `runsTest`, `lagOneAutocorrelation`; scale of autoregressive noise: common practice
 */
export function reportFit(fit: FitEnd, description: FitDescription): TracerFit {
  const { hasSigma, parameters, undetermined, held } = description;
  const residuals = normalised(fit, hasSigma);
  const runs = runsTest(residuals);
  const { r1: lag1 } = lagOneAutocorrelation(residuals);
  const reducedChiSquared = hasSigma ? fit.reducedChiSquared : 1;
  const residualScale = Math.sqrt((reducedChiSquared * (1 + lag1)) / (1 - lag1));
  const fitted = fittedParameters(parameters);
  const numbers: FitNumbers = {
    parameters: fitted,
    correlation: correlationOf(parameters),
    outcome: fit.outcome,
    reason: fit.reason,
    reducedChiSquared,
    ...{ runs, lag1, residualScale, hasSigma, undetermined, held },
  };
  const outliers = findOutliers(residuals, freeInfluence(fit, hasSigma));
  const scale = Number.isFinite(residualScale) ? Math.max(1, residualScale) : Number.NaN;
  return {
    model: description.model,
    equation: description.equation,
    weighting: description.weighting,
    parameters: fitted,
    derived: description.derived,
    covariance: parameters.covariance,
    correlation: numbers.correlation,
    uncertaintyBasis: hasSigma ? "stated-sigma" : "residual-scatter",
    chiSquared: reducedChiSquared * fit.degreesOfFreedom,
    reducedChiSquared,
    degreesOfFreedom: fit.degreesOfFreedom,
    fitted: fit.predicted,
    residuals,
    runsTest: runs,
    lag1,
    modelInadequacy: { value: rootMeanSquare(fit.residuals), unit: description.dataUnit },
    residualScale,
    withInadequacy: { scale, standardUncertainty: fitted.map(({ standardUncertainty: u }) => u * scale) },
    outliers,
    notIdentifiable: undetermined,
    outcome: fit.outcome,
    reason: fit.reason,
    advisories: [
      ...noiseAdvisories(numbers),
      ...parameterAdvisories(numbers),
      ...outlierAdvisories(outliers, { rows: residuals.length, rowName: description.rowName }),
      ...description.advisories(numbers),
    ],
  };
}

function fittedParameters({ names, values, units, atBound, covariance }: FittedParameters): FitParameter[] {
  const p = names.length;
  return names.map((name, j) => ({
    name,
    value: values[j],
    standardUncertainty: Math.sqrt(covariance[j * p + j]),
    unit: units[j],
    atBound: atBound[j],
  }));
}

function correlationOf({ names, covariance, correlation }: FittedParameters): Float64Array {
  if (correlation !== undefined) return correlation;
  const p = names.length;
  return covariance.map((value, k) => {
    const [i, j] = [Math.floor(k / p), k % p];
    if (i === j) return Number.isNaN(value) ? Number.NaN : 1;
    return value / Math.sqrt(covariance[i * p + i] * covariance[j * p + j]);
  });
}

/** Rows' pull on the parameters that were free and determined, in units of the stated (or scattered) sigma. */
function freeInfluence(fit: FitEnd, hasSigma: boolean) {
  const p = fit.names.length;
  const free = fit.names.map((_, j) => j).filter((j) => Number.isFinite(fit.standardErrors[j]) && !fit.atBound[j]);
  const n = fit.normalisedResiduals.length;
  // The covariance already holds the scatter where there is no sigma: the Jacobian then is in the same units.
  const unit = hasSigma ? 1 : Math.sqrt(fit.reducedChiSquared) || 1;
  const jacobian = new Float64Array(n * free.length);
  for (let i = 0; i < n; i++)
    free.forEach((j, c) => {
      jacobian[i * free.length + c] = fit.weightedJacobian[i * p + j] / unit;
    });
  const covariance = Float64Array.from({ length: free.length ** 2 }, (_, k) => {
    return fit.covariance[free[Math.floor(k / free.length)] * p + free[k % free.length]];
  });
  return { jacobian, covariance, names: free.map((j) => fit.names[j]) };
}

const rootMeanSquare = (values: Float64Array): number =>
  Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);

/** Residuals in standard deviations; where there is no sigma, in units of their own standard deviation. */
function normalised({ normalisedResiduals, reducedChiSquared }: FitEnd, hasSigma: boolean): Float64Array {
  if (hasSigma || reducedChiSquared === 0) return normalisedResiduals;
  return normalisedResiduals.map((value) => value / Math.sqrt(reducedChiSquared));
}
