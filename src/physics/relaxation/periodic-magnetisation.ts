/** How a periodic steady state ended. */
export type PeriodicOutcome = "converged" | "iteration-limit";

/** Numbers that say how a periodic steady state was reached; zero where a method has no use for one. */
export interface PeriodicDetail {
  /** Periods of the motion that were computed, on all meshes together. */
  readonly periods: number;
  /** Moments (or basis functions) kept. */
  readonly moments: number;
  /** Time steps per period of the answer. */
  readonly steps: number;
  /** Estimated largest error of a sample of M/Ms. */
  readonly errorEstimate: number;
}

/** Relative magnetisation along the field at even times of one period of the steady state. */
export interface PeriodicMagnetisation {
  /** M/Ms at times k period/samples, shape [samples]. */
  readonly magnetisation: Float64Array;
  readonly outcome: PeriodicOutcome;
  readonly detail: PeriodicDetail;
}

/** Samples of a period when nobody asks for another number: harmonics up to the 127th. */
export const defaultSamples = 256;
