import type { FitOutcome, RunsTest } from "../../numerics/index.js";
import type { BranchComparison } from "./branches.js";
import type { FitAdvisory } from "./fit-advisory.js";
import type { Outlier } from "./outliers.js";

export interface FitParameter {
  readonly name: string;
  readonly value: number;
  /** k = 1; NaN for a parameter that ended at a bound or that the data do not determine. */
  readonly standardUncertainty: number;
  readonly unit: string;
  readonly atBound: boolean;
}

/** A number that follows from the parameters. */
export type DerivedValue = Omit<FitParameter, "atBound">;

/**
 * A second number beside each statistical uncertainty: what it would be multiplied by to allow for what the residuals
 * show the model or sigma to be wrong by. `scale` is `residualScale`, never below 1.
 */
export interface WithInadequacy {
  readonly scale: number;
  /** In the order of `parameters`; NaN as there. */
  readonly standardUncertainty: readonly number[];
}

/** What every fit of a tracer model gives, whatever the instrument. */
export interface TracerFit {
  readonly model: string;
  readonly equation: string;
  /** What a median belongs to: the distribution of particle numbers, or of magnetic volume. */
  readonly weighting: "number" | "volume";
  readonly parameters: readonly FitParameter[];
  /** Follow from the parameters, their uncertainty through the covariance. */
  readonly derived: readonly DerivedValue[];
  /** Row-major, shape [p, p], in the order of `parameters`; NaN as in `standardUncertainty`. */
  readonly covariance: Float64Array;
  readonly correlation: Float64Array;
  /** "stated-sigma": the sd column is believed; "residual-scatter": there is none, chi2/dof is 1 by construction. */
  readonly uncertaintyBasis: "stated-sigma" | "residual-scatter";
  readonly chiSquared: number;
  readonly reducedChiSquared: number;
  readonly degreesOfFreedom: number;
  /** Model at the measured points, unit of the data, shape [n]. */
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
  readonly withInadequacy: WithInadequacy;
  /** Points far off the rest, by row; named, never dropped. */
  readonly outliers: readonly Outlier[];
  /** Parameters that the data do not determine, by name; empty for a sound fit. */
  readonly notIdentifiable: readonly string[];
  readonly outcome: FitOutcome;
  readonly reason: string;
  readonly advisories: readonly FitAdvisory[];
}

export const curveModels = ["log-normal-langevin", "log-normal-mixture", "free-form", "mean-field-chain"] as const;
export type CurveModel = (typeof curveModels)[number];

/** A fit of a magnetisation curve. */
export interface CurveFit extends TracerFit {
  readonly model: CurveModel;
  /** Ascending against descending part, where the curve holds both. */
  readonly branches?: BranchComparison;
}
