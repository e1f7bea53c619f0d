import type { FitOutcome, RunsTest } from "../../numerics/index.js";

/** A caution that has to stay with every number taken from the fit. `code` is stable, `message` is for people. */
export interface FitAdvisory {
  readonly code:
    | "assumed-fact"
    | "file-finding"
    | "sigma-not-independent-noise"
    | "sigma-too-small"
    | "correlated-residuals"
    | "not-identifiable"
    | "strongly-correlated-parameters"
    | "at-bound"
    | "not-converged"
    | "hysteresis-ignored"
    | "no-sigma"
    | "inconsistent-saturation";
  readonly message: string;
}

export interface FitParameter {
  readonly name: string;
  readonly value: number;
  /** k = 1; NaN for a parameter that ended at a bound or that the data do not determine. */
  readonly standardUncertainty: number;
  readonly unit: string;
  readonly atBound: boolean;
}

export interface CurveFit {
  readonly model: "log-normal-langevin";
  readonly equation: string;
  /** What the median belongs to: the distribution of particle numbers. */
  readonly weighting: "number";
  readonly parameters: readonly FitParameter[];
  /** Follow from the parameters, their uncertainty through the covariance. */
  readonly derived: readonly Omit<FitParameter, "atBound">[];
  /** Row-major, shape [p, p], in the order of `parameters`; NaN as in `standardUncertainty`. */
  readonly covariance: Float64Array;
  readonly correlation: Float64Array;
  /** "stated-sigma": the sd column is believed; "residual-scatter": there is none, chi2/dof is 1 by construction. */
  readonly uncertaintyBasis: "stated-sigma" | "residual-scatter";
  readonly chiSquared: number;
  readonly reducedChiSquared: number;
  readonly degreesOfFreedom: number;
  /** Model at the measured fields, unit of the curve, shape [n]. */
  readonly fitted: Float64Array;
  /** (measured - fitted) / sigma, shape [n]; in units of their own standard deviation without sigma. */
  readonly residuals: Float64Array;
  /** Signs of the residuals in the order of acquisition. */
  readonly runsTest: RunsTest;
  /** Lag-1 autocorrelation of the residuals. */
  readonly lag1: number;
  /** Root mean square of measured - fitted: what the model leaves unexplained, whatever sigma says. */
  readonly modelInadequacy: { readonly value: number; readonly unit: string };
  /**
   * What the standard uncertainties would be multiplied by if the residuals were first-order autoregressive noise:
   * sqrt(chi2/dof) sqrt((1 + r) / (1 - r)). A scale to judge by, not a correction: a misfit of the model is no noise.
   */
  readonly residualScale: number;
  /** Parameters that the data do not determine, by name; empty for a sound fit. */
  readonly notIdentifiable: readonly string[];
  readonly outcome: FitOutcome;
  readonly reason: string;
  readonly advisories: readonly FitAdvisory[];
}
