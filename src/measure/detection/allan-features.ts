import { FerruleError } from "../../errors.js";
import { chiSquareCdf, fitLine } from "../../numerics/index.js";
import type { AllanPoint } from "./allan-deviation.js";
import { allanFreedom } from "./allan-freedom.js";

/** What an Allan deviation curve says about averaging. */
export interface AllanFeatures {
  /** Local slope of ln sigma over ln tau to the next point, [points - 1]: -1/2 white, 0 flicker, 1/2 random walk, 1 drift. */
  readonly slopes: Float64Array;
  /** Longest time up to which no point refutes white noise (chi-square, 5 % for the curve); absent: not even two points. */
  readonly whiteUntil_s?: number;
  /** One-sided density of that white noise, unit of the values per Hz^0.5: sigma = density / sqrt(2 tau). */
  readonly whiteDensity_per_sqrtHz?: number;
  /** Averaging time of the smallest deviation. */
  readonly best: AllanPoint;
  /** The smallest deviation is at the longest time: the floor was not reached. */
  readonly isBestAtEnd: boolean;
  /** Straight drift of the values, unit per second, least squares. */
  readonly drift_per_s: number;
  /** What that drift alone makes of the deviation at the longest time, over the deviation there: near 1, it explains it. */
  readonly driftShare: number;
}

/**
 * White region, best averaging time and drift of a series, from its Allan deviation.
 *
 * @param values  the series, [M]
 * @param points  its `allanDeviation`, in order of time
 * Valid for   curves of three points or more; the white line is drawn through the first point
 * Source      NIST SP 1065 (drift: sigma = D tau/sqrt(2)); from memory. Checked by allan-features.test.ts
 */
export function allanFeatures(
  values: ArrayLike<number>,
  points: readonly AllanPoint[],
  { interval_s }: { interval_s: number },
): AllanFeatures {
  if (points.length < 3)
    throw new FerruleError("InvalidValue", {
      path: "points",
      found: `${points.length} averaging times`,
      accepted: "three averaging times or more, e.g. a series of 16 values or more",
    });
  if (points.some(({ deviation }) => deviation === 0))
    throw new FerruleError("NotIdentifiable", {
      path: "values",
      found: "a deviation of exactly zero: values that repeat, as a rounded series does",
      accepted: "values fine enough to show their noise",
    });
  const first = points[0];
  const last = points[points.length - 1];
  const leaves = points.findIndex((point) =>
    leavesWhite(point, first, { values: values.length, points: points.length }),
  );
  const whites = leaves < 0 ? points.length : leaves;
  const best = points.reduce((least, point) => (point.deviation < least.deviation ? point : least));
  const drift_per_s = driftOf(values, interval_s);
  return {
    slopes: slopesOf(points),
    ...(whites >= 2 && {
      whiteUntil_s: points[whites - 1].time_s,
      whiteDensity_per_sqrtHz: first.deviation * Math.sqrt(2 * first.time_s),
    }),
    best,
    isBestAtEnd: best === last,
    drift_per_s,
    driftShare: (Math.abs(drift_per_s) * last.time_s) / Math.SQRT2 / last.deviation,
  };
}

/** Whether white noise through the first point is refuted here: 5 % for the whole curve, shared among its points. */
function leavesWhite(
  point: AllanPoint,
  first: AllanPoint,
  { values, points }: { values: number; points: number },
): boolean {
  const white = first.deviation * Math.sqrt(first.time_s / point.time_s);
  const freedom = allanFreedom(values, point.factor, 0);
  const tail = chiSquareCdf((freedom * point.deviation ** 2) / white ** 2, freedom);
  return Math.min(tail.lower, tail.upper) < 0.025 / points;
}

function slopesOf(points: readonly AllanPoint[]): Float64Array {
  return Float64Array.from(points.slice(1), (point, i) => {
    const before = points[i];
    return Math.log(point.deviation / before.deviation) / Math.log(point.time_s / before.time_s);
  });
}

function driftOf(values: ArrayLike<number>, interval_s: number): number {
  const y = Float64Array.from(values);
  const time_s = y.map((_, i) => i * interval_s);
  return fitLine(time_s, y).slope;
}
