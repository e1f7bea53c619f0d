import { analyseCovariance, correlationOf, type FloatingDirection } from "./covariance.js";
import type { FitOutcome } from "./fit-state.js";
import { minimise } from "./levenberg-marquardt.js";
import { type LeastSquaresOptions, type LeastSquaresProblem, prepareProblem } from "./problem.js";

export interface LeastSquaresResult {
  readonly names: readonly string[];
  readonly parameters: Float64Array;
  /** Row-major, [p, p]. NaN for a parameter at a bound (its interval is one-sided) or not determined by the data. */
  readonly covariance: Float64Array;
  /** What the covariance was scaled by; see `LeastSquaresOptions.covarianceScale`. */
  readonly covarianceScale: "absolute" | "reduced-chi-squared";
  /** Square roots of the diagonal of the covariance, [p]. */
  readonly standardErrors: Float64Array;
  /** Row-major, [p, p]; NaN as in `covariance`. */
  readonly correlation: Float64Array;
  /** observed − predicted, [n]. */
  readonly residuals: Float64Array;
  /** (observed − predicted)/sigma, [n]. */
  readonly normalisedResiduals: Float64Array;
  readonly predicted: Float64Array;
  /** ∂predicted/∂parameter/sigma at the end, row-major, [n, p]. */
  readonly weightedJacobian: Float64Array;
  readonly chiSquared: number;
  /** chi2/dof; NaN when there is no degree of freedom. */
  readonly reducedChiSquared: number;
  /** Values minus parameters that were free at the end (not at a bound). */
  readonly degreesOfFreedom: number;
  readonly iterations: number;
  readonly outcome: FitOutcome;
  readonly reason: string;
  readonly atBound: readonly boolean[];
  /** Of the free Jacobian with unit columns. Above about 1e4 two parameters are hard to tell apart. */
  readonly conditionNumber: number;
  /** Directions that the data do not determine; empty for a sound fit. */
  readonly floating: readonly FloatingDirection[];
}

/**
 * Weighted non-linear least squares with bounds.
 *   minimise χ²(p) = Σ ((y_i − f_i(p))/σ_i)²,  lower <= p <= upper;  covariance (JᵀJ)⁻¹ at the minimum
 *
 * @param problem  model, observed values [n], sigma [n]; optional Jacobian
 * @param start  first parameters, [p], inside the bounds
 * @param options  bounds, names, scaling of the covariance, limits of the iteration
 *
 * Valid for   smooth models, n >= p, a start in the right valley (a local method). The covariance is the linear one:
 *             it means little where the model bends within a standard error.
 *             Parameters at a bound are treated as held: the covariance of the others is conditional on that.
 * Source      see levenberg-marquardt.ts and covariance.ts
 * Checked by  checks/least-squares (scipy.optimize.curve_fit and least_squares)
 */
export function leastSquares(
  problem: LeastSquaresProblem,
  start: ArrayLike<number>,
  options: LeastSquaresOptions = {},
): LeastSquaresResult {
  const {
    maxIterations = 200,
    orthogonality = 1e-9,
    // Difference derivatives are good to about 1e-10 of a column, so nothing below 1e-8 of the largest can be trusted.
    degeneracy = problem.jacobian ? 1e-12 : 1e-8,
    covarianceScale = problem.sigma === undefined ? "reduced-chi-squared" : "absolute",
  } = options;
  const prepared = prepareProblem(problem, start, options);
  const {
    jacobian,
    residuals: normalisedResiduals,
    ...end
  } = minimise(prepared, { maxIterations, orthogonality, degeneracy });
  const p = end.parameters.length;
  const atBound = Array.from(end.parameters, (value, j) => value === prepared.lower[j] || value === prepared.upper[j]);
  const free = Array.from(atBound.keys()).filter((j) => !atBound[j]);
  const degreesOfFreedom = normalisedResiduals.length - free.length;
  const reducedChiSquared = degreesOfFreedom > 0 ? end.chiSquared / degreesOfFreedom : Number.NaN;
  const analysis = analyseCovariance(jacobian, { free, names: prepared.names, degeneracy });
  const factor = covarianceScale === "absolute" ? 1 : reducedChiSquared;
  const covariance = analysis.covariance.map((value) => value * factor);
  return {
    ...end,
    ...analysis,
    names: prepared.names,
    covariance,
    covarianceScale,
    standardErrors: Float64Array.from({ length: p }, (_, j) => Math.sqrt(covariance[j * p + j])),
    correlation: correlationOf(analysis.covariance, p),
    residuals: prepared.observed.map((y, i) => y - end.predicted[i]),
    normalisedResiduals,
    weightedJacobian: jacobian,
    reducedChiSquared,
    degreesOfFreedom,
    atBound,
  };
}
