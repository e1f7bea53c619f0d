import type { SingularValues } from "../../numerics/index.js";
import type { FieldFunction, Vector3 } from "../sources/source.js";
import { distance, dot, length, moved } from "../sources/vector3.js";
import { type BoreCylinder, isInBore } from "./bore-cylinder.js";
import { localFields } from "./local-gradient.js";
import { applied, column, decompose, pseudoInverse, rankOf } from "./three-by-three.js";

export interface ValleyPoint {
  readonly position_m: Vector3;
  readonly field_T: Vector3;
  readonly gradient_T_per_m: Float64Array;
  readonly singular: SingularValues;
  /** 3: a zero was sought. Less: a place where the field across the weak directions is zero. */
  readonly rank: number;
  /** `stalled`: no step lowers the field any more though it is not zero. */
  readonly outcome: "converged" | "stalled" | "iteration-limit";
}

export interface ValleyOptions {
  readonly within: BoreCylinder;
  /** Singular directions below this part of the largest are left alone. */
  readonly weakShare: number;
  readonly largestStep_m: number;
}

interface Walker {
  position: Vector3;
  field: Vector3;
  singular: SingularValues;
  damping: number;
  state: "walking" | "left" | ValleyPoint["outcome"];
}

/**
 * Newton's method from many starts at once, on the directions in which the gradient is strong.
 *   s = -J^+ B,  J^+ the pseudo-inverse on singular values >= weakShare of the largest; |s| <= largestStep, halved until
 *   the field along the strong directions falls. Each round is one call of the field.
 * At a field-free point all three directions are strong and the point is a zero. On a field-free line two are, and the
 * place is the minimum of |B| in the plane across the weak one (J symmetric: B along the two strong directions is 0).
 * Starts that meet are merged; those that leave 1.5 times the bore are dropped.
 *
 * Source      Newton-Gauss with a truncated singular value decomposition, common practice
 * Checked by  field-free-region.test.ts, checks/field-free
 */
export function valleyPoints(
  field: FieldFunction,
  starts_m: readonly Vector3[],
  options: ValleyOptions,
): ValleyPoint[] {
  const { within, weakShare, largestStep_m } = options;
  const tolerance_m = 1e-9 * within.radius_m;
  const coarse = { step_m: 1e-3 * within.radius_m, order: 2 } as const;
  const walkers = starts_m.map(startAt);
  place(walkers, fieldsAt(field, starts_m, coarse));
  for (let round = 0; round < 40; round++) {
    let moving = walkers.filter(({ state }) => state === "walking");
    if (moving.length === 0) break;
    const proposals = moving.map((walker) => step(walker, weakShare, largestStep_m));
    moving.forEach((walker, i) => {
      if (length(proposals[i]) <= tolerance_m * walker.damping) walker.state = "converged";
    });
    const kept = proposals.filter((_, i) => moving[i].state === "walking");
    moving = moving.filter(({ state }) => state === "walking");
    const tried = moving.map(({ position }, i) => moved(position, kept[i]));
    const found = fieldsAt(field, tried, coarse);
    moving.forEach((walker, i) => {
      judge(walker, { position: tried[i], ...found[i] }, { weakShare, tolerance_m });
      if (!isInBore(within, walker.position, 1.5)) walker.state = "left";
    });
    merge(walkers, tolerance_m * 100);
  }
  return polish(
    field,
    walkers.filter(({ state }) => state !== "left"),
    options,
  );
}

interface Sampled {
  readonly field: Vector3;
  readonly gradient: Float64Array;
}

function fieldsAt(
  field: FieldFunction,
  points: readonly Vector3[],
  options: { step_m: number; order: 2 | 6 },
): Sampled[] {
  if (points.length === 0) return [];
  const { field_T, gradient_T_per_m } = localFields(field, Float64Array.from(points.flat()), options);
  return points.map((_, i) => ({
    field: [field_T[3 * i], field_T[3 * i + 1], field_T[3 * i + 2]],
    gradient: gradient_T_per_m.slice(9 * i, 9 * i + 9),
  }));
}

function startAt(position: Vector3): Walker {
  return { position, field: [0, 0, 0], singular: decompose(new Float64Array(9)), damping: 1, state: "walking" };
}

function place(walkers: readonly Walker[], found: readonly Sampled[]): void {
  walkers.forEach((walker, i) => {
    walker.field = found[i].field;
    if (found[i].gradient.every(Number.isFinite)) walker.singular = decompose(found[i].gradient);
    else walker.state = "left";
  });
}

/** Damped Newton step; shorter than the tolerance when there is nothing left to gain. */
function step({ field, singular, damping }: Walker, weakShare: number, largest_m: number): Vector3 {
  const full = applied(pseudoInverse(singular, rankOf(singular.s, weakShare)), field);
  return moved([0, 0, 0], full, -damping * Math.min(1, largest_m / Math.max(length(full), Number.MIN_VALUE)));
}

/** Accepts a step that lowers the field along the strong directions; halves it otherwise. */
function judge(
  walker: Walker,
  { position, field, gradient }: Sampled & { position: Vector3 },
  { weakShare, tolerance_m }: { weakShare: number; tolerance_m: number },
): void {
  const { u, s } = walker.singular;
  const strong = [...Array(rankOf(s, weakShare)).keys()].map((k) => column(u, k));
  const merit = (b: Vector3): number => Math.hypot(...strong.map((direction) => dot(direction, b)));
  if (merit(field) < merit(walker.field) && gradient.every(Number.isFinite)) {
    walker.position = position;
    walker.field = field;
    walker.singular = decompose(gradient);
    walker.damping = Math.min(1, 2 * walker.damping);
  } else if (length(moved(position, walker.position, -1)) <= 100 * tolerance_m) {
    // Rounding: the field no longer tells places this close apart.
    walker.state = walker.damping === 1 ? "converged" : "stalled";
  } else walker.damping /= 2;
}

function merge(walkers: readonly Walker[], near_m: number): void {
  walkers.forEach((walker, i) => {
    if (walker.state !== "walking" && walker.state !== "converged") return;
    const isMet = walkers
      .slice(0, i)
      .some(({ state, position }) => state !== "left" && distance(position, walker.position) < near_m);
    if (isMet) walker.state = "left";
  });
}

/** One last step with the high-order gradient, and field and gradient there. */
function polish(field: FieldFunction, walkers: readonly Walker[], options: ValleyOptions): ValleyPoint[] {
  const fine = { step_m: options.within.radius_m / 100, order: 6 } as const;
  const before = fieldsAt(
    field,
    walkers.map(({ position }) => position),
    fine,
  );
  place(walkers, before);
  const last = walkers.map((walker) => {
    const by = step({ ...walker, damping: 1 }, options.weakShare, options.largestStep_m);
    return walker.state === "converged" && length(by) < 1e-6 * options.within.radius_m
      ? moved(walker.position, by)
      : walker.position;
  });
  return fieldsAt(field, last, fine).map(({ field: b, gradient }, i) => {
    const singular = decompose(gradient);
    return {
      position_m: last[i],
      field_T: b,
      gradient_T_per_m: gradient,
      singular,
      rank: rankOf(singular.s, options.weakShare),
      outcome: outcomeOf(walkers[i].state),
    };
  });
}

function outcomeOf(state: Walker["state"]): ValleyPoint["outcome"] {
  return state === "walking" || state === "left" ? "iteration-limit" : state;
}
