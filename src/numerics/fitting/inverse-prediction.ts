import { FerruleError } from "../../errors.js";
import type { LineFit } from "./linear-fit.js";

export interface InversePrediction {
  readonly x: number;
  /** First-order standard uncertainty s_x0 (Q7). */
  readonly standardUncertainty: number;
  /** (s_b/b)²: the first-order formula is good while t²·this is well below 1 (say 0.05). */
  readonly slopeVariance: number;
}

/** What a line tells an inverse prediction: from `fitLine`, or from a publication's summary of its line. */
export type LineSummary = Pick<
  LineFit,
  | "slope"
  | "intercept"
  | "slopeStandardError"
  | "residualScale"
  | "covarianceScale"
  | "weightSum"
  | "degreesOfFreedom"
  | "yMean"
  | "sxx"
>;

interface Reading {
  /** Number of repeated readings whose mean is y0. */
  readonly replicates?: number;
  /** Standard deviation of one reading; required when the line was fitted with sigma, where no common one exists. */
  readonly sigma?: number;
}

/**
 * The x that belongs to a new reading y0 on a fitted line.
 *   x0 = (y0 − a)/b,  s_x0 = (1/|b|)·√(s0²/m + f/Σw + f·(y0 − ȳ)²/(b²·S_xx))
 *   unweighted, s0 = s_y: (s_y/b)·√(1/m + 1/n + (y0 − ȳ)²/(b²·S_xx)); f is the scale of the line's covariance.
 *
 * @param line  from `fitLine`
 * @param y0  mean of m readings
 *
 * Source      Miller & Miller (from memory; facts Q7, recomputed W32)
 * Checked by  checks/least-squares (W32)
 */
export function predictInverse(line: LineSummary, y0: number, reading: Reading = {}): InversePrediction {
  const { slope, intercept, yMean, sxx, weightSum } = line;
  const factor = scaleOf(line);
  const slopeVariance = factor / sxx / slope ** 2;
  requireSlope(line);
  const variance =
    readingVariance(line, reading) + factor / weightSum + (factor * (y0 - yMean) ** 2) / (slope ** 2 * sxx);
  return { x: (y0 - intercept) / slope, standardUncertainty: Math.sqrt(variance) / Math.abs(slope), slopeVariance };
}

/**
 * Exact (Fieller) interval for the x of a new reading, where the first-order formula no longer serves.
 *   the x with (ȳ + b(x − x̄) − y0)² <= t²·(s0²/m + f/Σw + f·(x − x̄)²/S_xx)
 *
 * @param options.t  Student factor for the wanted coverage and the line's degrees of freedom
 * @returns [low, high]; refuses (NotIdentifiable) when the slope is not significant at t: the interval is unbounded
 *
 * Source      Fieller, J. R. Stat. Soc. B 16:175 (1954); from memory, formula derived.
 * Checked by  linear-fit.test.ts (the ends satisfy the defining equality; agrees with s_x0 for a sharp slope)
 */
export function fiellerInterval(
  line: LineFit,
  y0: number,
  { t, ...reading }: Reading & { t: number },
): readonly [number, number] {
  const { slope, xMean, yMean, sxx, weightSum } = line;
  const factor = scaleOf(line);
  const g = (t * t * factor) / sxx / slope ** 2;
  if (!(g < 1)) throw insignificantSlope(line, `t = ${t.toPrecision(3)}`);
  const d = (y0 - yMean) / slope;
  const rest = readingVariance(line, reading) + factor / weightSum;
  const half = (t / Math.abs(slope)) * Math.sqrt((1 - g) * rest + (factor * d * d) / sxx);
  const low = (d - half) / (1 - g);
  const high = (d + half) / (1 - g);
  return [xMean + low, xMean + high];
}

/** Scale f of the line's covariance over the bare weights. */
function scaleOf({ covarianceScale, residualScale }: LineSummary): number {
  return covarianceScale === "absolute" ? 1 : residualScale ** 2;
}

function readingVariance(line: LineSummary, { replicates = 1, sigma }: Reading): number {
  if (!(Number.isInteger(replicates) && replicates >= 1))
    throw new FerruleError("InvalidValue", {
      path: "replicates",
      found: String(replicates),
      accepted: "the number of readings averaged, a whole number from 1, e.g. 3",
    });
  if (sigma !== undefined && sigma >= 0) return sigma ** 2 / replicates;
  // Equal unknown sigmas: the weights are all 1, so their sum is a whole number of points.
  const unweighted = line.weightSum === line.degreesOfFreedom + 2;
  if (sigma === undefined && unweighted) return line.residualScale ** 2 / replicates;
  throw new FerruleError(sigma === undefined ? "MissingFact" : "InvalidValue", {
    path: "sigma",
    found: sigma === undefined ? "a weighted line and no standard deviation for the new reading" : String(sigma),
    accepted: "the standard deviation of one reading, 0 or more, e.g. 0.4",
  });
}

function requireSlope(line: LineSummary): void {
  if (line.slope === 0) throw insignificantSlope(line, "any level");
}

function insignificantSlope({ slope, slopeStandardError }: LineSummary, level: string): FerruleError {
  return new FerruleError("NotIdentifiable", {
    path: "slope",
    found: `${slope.toPrecision(3)} with standard error ${slopeStandardError.toPrecision(2)}, not different from 0 at ${level}`,
    accepted: "a line whose slope is significant, e.g. standards over a wider range",
  });
}
