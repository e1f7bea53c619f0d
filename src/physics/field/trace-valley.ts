import type { SingularValues } from "../../numerics/index.js";
import type { FieldFunction, Vector3 } from "../sources/source.js";
import { distance, dot, length, moved } from "../sources/vector3.js";
import { type BoreCylinder, isInBore, reachInBore } from "./bore-cylinder.js";
import { localFields } from "./local-gradient.js";
import { applied, column, decompose, pseudoInverse } from "./three-by-three.js";
import type { ValleyPoint } from "./valley-points.js";

export type ValleyEnd = "bore" | "opens" | "closed" | "lost";

export interface Valley {
  readonly positions_m: readonly Vector3[];
  /** |mu0H| there. */
  readonly residual_T: Float64Array;
  /** Signed field along the valley; its zeros are field-free points. */
  readonly along_T: Float64Array;
  /** Why it stops at either end: the wall; no weak direction any more; it met itself; no place was found. */
  readonly ends: readonly [ValleyEnd, ValleyEnd];
}

export interface TraceOptions {
  readonly within: BoreCylinder;
  readonly spacing_m: number;
}

interface Place {
  readonly position: Vector3;
  readonly field: Vector3;
  readonly singular: SingularValues;
  /** Unit vector along the valley. */
  readonly heading: Vector3;
}

/** Above this ratio of the weakest to the strongest gradient a valley has no direction to follow. */
const openRatio = 0.4;
const mostSteps = 400;

/**
 * Follows the valley of |B|: steps along the weak direction, and after each the minimum of |B| in the plane across it,
 *   s = -J^+ B restricted to the plane (Gauss-Newton).
 * It bends with the valley, so that a field-free ring is followed round.
 *
 * @param start  a valley point with a weak direction
 * @returns places in order, from one end to the other
 * Source      predictor-corrector continuation, common practice
 * Checked by  field-free-line.test.ts (four wires, a tilted line, a ring), checks/field-free (four loops)
 */
export function traceValley(field: FieldFunction, start: ValleyPoint, options: TraceOptions): Valley {
  const first: Place = {
    position: start.position_m,
    field: start.field_T,
    singular: start.singular,
    heading: column(start.singular.v, 2),
  };
  const forward = march(field, first, options);
  const back =
    forward.end === "closed"
      ? { places: [], end: "closed" as const }
      : march(field, { ...first, heading: moved([0, 0, 0], first.heading, -1) }, options);
  const turned = back.places.map((place) => ({ ...place, heading: moved([0, 0, 0], place.heading, -1) })).reverse();
  const places = [...turned, first, ...forward.places];
  return {
    positions_m: places.map(({ position }) => position),
    residual_T: Float64Array.from(places, (place) => length(place.field)),
    along_T: Float64Array.from(places, (place) => dot(place.field, place.heading)),
    ends: [back.end, forward.end],
  };
}

function march(field: FieldFunction, from: Place, options: TraceOptions): { places: Place[]; end: ValleyEnd } {
  const { within, spacing_m } = options;
  const places: Place[] = [];
  let here = from;
  let stride = spacing_m;
  while (places.length < mostSteps) {
    const reach = reachInBore(within, here.position, here.heading);
    if (reach <= 1e-9 * within.radius_m) return { places, end: "bore" };
    const next = settleAcross(field, here, { stride: Math.min(stride, reach), within });
    // A sharp turn, or a place beyond the wall after a bend: a shorter stride.
    if (next === undefined || dot(next.heading, here.heading) < 0.9 || !isInBore(within, next.position, 1 + 1e-6)) {
      stride /= 2;
      if (stride > spacing_m / 64) continue;
      return { places, end: next === undefined || isInBore(within, next.position) ? "lost" : "bore" };
    }
    if (next.singular.s[2] > openRatio * next.singular.s[0]) return { places, end: "opens" };
    if (places.length > 3 && distance(next.position, from.position) < 0.75 * spacing_m)
      return { places: [...places, { ...from, heading: here.heading }], end: "closed" };
    places.push(next);
    here = next;
    stride = Math.min(spacing_m, 2 * stride);
  }
  return { places, end: "lost" };
}

/** The minimum of |B| in the plane across the heading, one stride on. */
function settleAcross(
  field: FieldFunction,
  { position, heading }: Place,
  { stride, within }: { stride: number; within: BoreCylinder },
): Place | undefined {
  const step_m = 1e-3 * within.radius_m;
  let at = moved(position, heading, stride);
  for (let round = 0; round < 8; round++) {
    const { field_T, gradient_T_per_m } = localFields(field, Float64Array.from(at), { step_m, order: 2 });
    if (!gradient_T_per_m.every(Number.isFinite)) return undefined;
    const across = decompose(withoutDirection(gradient_T_per_m, heading));
    if (!(across.s[1] > 0)) return undefined;
    const by = applied(pseudoInverse(across, 2), field_T);
    if (length(by) < 1e-9 * within.radius_m) return placeAt(at, field_T, { gradient_T_per_m, heading });
    // Further off the axis of the step than the step is long: the valley is not there.
    if (distance(at, position) > 3 * stride) return undefined;
    at = moved(at, by, -1);
  }
  return undefined;
}

function placeAt(
  position: Vector3,
  field_T: Float64Array,
  { gradient_T_per_m, heading }: { gradient_T_per_m: Float64Array; heading: Vector3 },
): Place {
  const singular = decompose(gradient_T_per_m);
  const weak = column(singular.v, 2);
  const sign = dot(weak, heading) < 0 ? -1 : 1;
  return {
    position,
    field: [field_T[0], field_T[1], field_T[2]],
    singular,
    heading: moved([0, 0, 0], weak, sign),
  };
}

/** J (1 - t t^T). */
function withoutDirection(gradient: Float64Array, t: Vector3): Float64Array {
  const along = applied(gradient, t);
  return gradient.map((value, index) => value - along[Math.floor(index / 3)] * t[index % 3]);
}
