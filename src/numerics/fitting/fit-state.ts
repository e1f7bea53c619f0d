export type FitOutcome = "converged" | "iteration-limit" | "diverged";

/** A point that a minimiser stands at, with the model there. */
export interface FitState {
  readonly parameters: Float64Array;
  readonly predicted: Float64Array;
  /** (observed − predicted)/sigma, [n]. */
  readonly residuals: Float64Array;
  readonly chiSquared: number;
}
