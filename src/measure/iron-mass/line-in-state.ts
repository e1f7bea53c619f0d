import type { CalibrationLine } from "../calibration/calibration-line.js";

/** Signal per iron where the object was scanned over that where the vials were, k = 1. */
export interface SignalRatio {
  readonly value: number;
  readonly standardUncertainty: number;
}

/**
 * The calibration line for iron that gives r times the signal of the vials' iron.
 *   reading = a + b m  becomes  reading = a + r b m
 * Intercept and scatter stay; the slope, its covariances and the range move with r. The uncertainty of r is a budget line of
 * its own: it is common to all regions of a scan.
 *
 * Source      derived; practice J4 (a calibration in water used in cells is a bias)
 */
export function lineInState(line: CalibrationLine, { value: r }: SignalRatio): CalibrationLine {
  const [aa, ab, bb] = line.covariance;
  return {
    ...line,
    slope: line.slope * r,
    covariance: [aa, ab * r, bb * r * r],
    range_kg: [line.range_kg[0] / r, line.range_kg[1] / r],
  };
}
