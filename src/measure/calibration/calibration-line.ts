import { FerruleError } from "../../errors.js";
import { fitLine } from "../../numerics/index.js";

/** One calibration sample: what the pipeline read for it, and what it is known to hold. */
export interface CalibrationPoint {
  readonly label: string;
  /** Mass read from the uncalibrated map, kg. */
  readonly reading_kg: number;
  readonly readingUncertainty_kg: number;
  /** Known iron, kg. */
  readonly iron_kg: number;
  /** Of this sample alone (pipetting); the stock assay is common to all and kept apart. */
  readonly ironUncertainty_kg: number;
}

/**
 * reading = intercept + slope · iron, with uncertainties on both sides (effective variance u_r² + slope² u_m²).
 *
 * Source      weighted straight line with covariance: facts Q7 (inverse prediction); effective variance: common practice
 * Checked by  checks/calibration (W32 with equal weights)
 */
export interface CalibrationLine {
  readonly slope: number;
  readonly intercept_kg: number;
  /** [var(intercept), cov, var(slope)] */
  readonly covariance: readonly [number, number, number];
  readonly chiSquared: number;
  readonly degreesOfFreedom: number;
  /** (reading − line) / effective sd, per point: each vial is judged, not R². */
  readonly normalisedResiduals: readonly number[];
  /** Relative standard uncertainty of the stock assay: shifts all known masses together. */
  readonly stockRelativeUncertainty: number;
  readonly points: readonly CalibrationPoint[];
  readonly range_kg: readonly [number, number];
}

export function calibrationLine(
  points: readonly CalibrationPoint[],
  { stockRelativeUncertainty }: { stockRelativeUncertainty: number },
): CalibrationLine {
  const distinct = new Set(points.map(({ iron_kg }) => iron_kg)).size;
  if (points.length < 3 || distinct < 2)
    throw new FerruleError("NotIdentifiable", {
      path: "calibration.vials",
      found: `${points.length} vials with ${distinct} different masses`,
      accepted: "at least 3 vials with at least 2 different masses, for a line and a check of it",
    });
  let slope = 1;
  let fit = weightedLine(points, slope);
  // The weights depend on the slope; two or three rounds settle it to rounding.
  for (let round = 0; round < 20 && Math.abs(fit.slope - slope) > 1e-12 * Math.abs(fit.slope); round++) {
    slope = fit.slope;
    fit = weightedLine(points, slope);
  }
  if (!(fit.slope > 0))
    throw new FerruleError("NotIdentifiable", {
      path: "calibration.vials",
      found: `a calibration slope of ${fit.slope}`,
      accepted: "readings that grow with the known iron",
    });
  const masses = points.map(({ iron_kg }) => iron_kg);
  return {
    ...fit,
    degreesOfFreedom: points.length - 2,
    stockRelativeUncertainty,
    points,
    range_kg: [masses.reduce((a, b) => Math.min(a, b)), masses.reduce((a, b) => Math.max(a, b))],
  };
}

function weightedLine(points: readonly CalibrationPoint[], slopeForWeights: number) {
  const sigma = points.map(({ readingUncertainty_kg: r, ironUncertainty_kg: m }) => Math.hypot(r, slopeForWeights * m));
  const iron = points.map(({ iron_kg }) => iron_kg);
  const readings = points.map(({ reading_kg }) => reading_kg);
  const { slope, intercept, covariance, chiSquared, residuals } = fitLine(iron, readings, { sigma });
  return {
    slope,
    intercept_kg: intercept,
    covariance: [covariance[0], covariance[1], covariance[3]] as const,
    chiSquared,
    normalisedResiduals: [...residuals].map((residual, i) => residual / sigma[i]),
  };
}

/** Iron for a reading, kg, with the line's own share of its variance (the reading's is added by the caller), kg². */
export function inverseCalibration(line: CalibrationLine, reading_kg: number) {
  const iron_kg = (reading_kg - line.intercept_kg) / line.slope;
  const [v0, v01, v1] = line.covariance;
  return {
    iron_kg,
    lineVariance_kg2: (v0 + 2 * iron_kg * v01 + iron_kg ** 2 * v1) / line.slope ** 2,
    stockVariance_kg2: (iron_kg * line.stockRelativeUncertainty) ** 2,
    isExtrapolated: iron_kg < 0 || iron_kg > 1.05 * line.range_kg[1],
  };
}
