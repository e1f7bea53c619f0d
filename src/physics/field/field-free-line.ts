import type { FieldFunction, Vector3 } from "../sources/source.js";
import { distance, dot, length, moved } from "../sources/vector3.js";
import type { BoreCylinder } from "./bore-cylinder.js";
import { localGradient } from "./local-gradient.js";
import { principalGradients } from "./principal-gradients.js";
import type { Valley, ValleyEnd } from "./trace-valley.js";

export interface FieldFreeLine {
  /** Places along the valley of |mu0H| within the bore, in order. */
  readonly positions_m: readonly Vector3[];
  /** Distance along it from the first place. */
  readonly arc_m: Float64Array;
  readonly residual_T: Float64Array;
  readonly largestResidual_T: number;
  /** The residual below which a place counts as field-free: gradient across the line times `residualLength_m`. */
  readonly limit_T: number;
  /** Stretch about the smallest residual in which it stays below the limit. */
  readonly lengthBelow_m: number;
  /** Centroid of that stretch, and the unit vector along it (least squares); its largest component is positive. */
  readonly point_m: Vector3;
  readonly direction: Vector3;
  /** Largest distance of the stretch from that straight line. */
  readonly straightness_m: number;
  /** Gradient tensor at the place of the stretch nearest its centroid, [9]. */
  readonly gradient_T_per_m: Float64Array;
  readonly isClosed: boolean;
  readonly ends: readonly [ValleyEnd, ValleyEnd];
}

export interface LineOptions {
  readonly within: BoreCylinder;
  /** Default 1 mm: the residual stays below what one millimetre off the line would see. */
  readonly residualLength_m?: number;
}

/**
 * What a traced valley is worth as a field-free line: how far its residual stays small, how straight it is there.
 *   limit = G · residualLength, G the largest principal gradient at the smallest residual;
 *   line through the centroid along the axis of largest variance of the places, weighted by arc length
 *
 * Valid for   valleys sampled finely against their bends; crossings of the limit are linearly interpolated
 * Source      derived
 * Checked by  field-free-line.test.ts, checks/field-free (four loops, residual from the 30-digit axis field)
 */
export function describeLine(
  field: FieldFunction,
  valley: Valley,
  { within, residualLength_m = 1e-3 }: LineOptions,
): FieldFreeLine {
  const { positions_m, residual_T, ends } = valley;
  const gradientAt = (i: number): Float64Array =>
    localGradient(field, positions_m[i], { step_m: within.radius_m / 100 });
  const arc_m = arcLengths(positions_m);
  const best = residual_T.indexOf(Math.min(...residual_T));
  const limit_T = Math.abs(principalGradients(gradientAt(best)).values_T_per_m[0]) * residualLength_m;
  const stretch = stretchBelow(residual_T, { best, limit_T });
  const { from, to } = stretch.last > stretch.first ? stretch.ends(arc_m) : { from: arc_m[best], to: arc_m[best] };
  const inside = positions_m.slice(stretch.first, stretch.last + 1);
  const { point_m, direction } = fitLine(inside.length < 3 ? positions_m : inside);
  const middle = nearest(positions_m, point_m);
  return {
    positions_m,
    arc_m,
    residual_T,
    largestResidual_T: Math.max(...residual_T),
    limit_T,
    lengthBelow_m: to - from,
    point_m,
    direction,
    straightness_m: Math.max(...inside.map((place) => distanceFromLine(place, point_m, direction))),
    gradient_T_per_m: gradientAt(middle),
    isClosed: ends[1] === "closed",
    ends,
  };
}

function arcLengths(positions: readonly Vector3[]): Float64Array {
  const arc = new Float64Array(positions.length);
  for (let i = 1; i < arc.length; i++) arc[i] = arc[i - 1] + distance(positions[i], positions[i - 1]);
  return arc;
}

interface Stretch {
  readonly first: number;
  readonly last: number;
  ends(arc: Float64Array): { from: number; to: number };
}

/** Places about the best one whose residual is below the limit; the ends lie where the limit is crossed. */
function stretchBelow(residual: Float64Array, { best, limit_T }: { best: number; limit_T: number }): Stretch {
  let first = best;
  let last = best;
  while (first > 0 && residual[first - 1] <= limit_T) first--;
  while (last + 1 < residual.length && residual[last + 1] <= limit_T) last++;
  const crossing = (arc: Float64Array, inside: number, outside: number): number => {
    if (outside < 0 || outside >= residual.length) return arc[inside];
    const share = (limit_T - residual[inside]) / (residual[outside] - residual[inside]);
    return arc[inside] + Math.max(0, share) * (arc[outside] - arc[inside]);
  };
  return {
    first,
    last,
    ends: (arc) => ({ from: crossing(arc, first, first - 1), to: crossing(arc, last, last + 1) }),
  };
}

/** Straight line of least squares: centroid and the axis of largest variance. */
function fitLine(places: readonly Vector3[]): { point_m: Vector3; direction: Vector3 } {
  const weights = places.map((place, i) => {
    const before = i === 0 ? 0 : distance(place, places[i - 1]);
    const after = i + 1 === places.length ? 0 : distance(place, places[i + 1]);
    return (before + after) / 2;
  });
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  if (!(total > 0)) return { point_m: places[0], direction: [0, 0, 1] };
  let point: Vector3 = [0, 0, 0];
  places.forEach((place, i) => {
    point = moved(point, place, weights[i] / total);
  });
  const spread = new Float64Array(9);
  places.forEach((place, k) => {
    const off = moved(place, point, -1);
    for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) spread[3 * i + j] += weights[k] * off[i] * off[j];
  });
  const [direction] = principalGradients(spread).directions;
  const largest = direction.reduce((most, value) => (Math.abs(value) > Math.abs(most) + 1e-9 ? value : most), 0);
  return { point_m: point, direction: moved([0, 0, 0], direction, largest < 0 ? -1 : 1) };
}

function distanceFromLine(place: Vector3, point: Vector3, direction: Vector3): number {
  const off = moved(place, point, -1);
  return length(moved(off, direction, -dot(off, direction)));
}

function nearest(places: readonly Vector3[], point: Vector3): number {
  const distances = places.map((place) => distance(place, point));
  return distances.indexOf(Math.min(...distances));
}
