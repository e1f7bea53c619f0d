import type { FieldFunction, Vector3 } from "../sources/source.js";
import { distance, dot, length, moved } from "../sources/vector3.js";
import { type BoreCylinder, isInBore, requireBore } from "./bore-cylinder.js";
import { coarseSearch } from "./coarse-search.js";
import { describeLine, type FieldFreeLine } from "./field-free-line.js";
import { type SmallestField, smallestField } from "./smallest-field.js";
import { frobenius } from "./three-by-three.js";
import { traceValley, type Valley } from "./trace-valley.js";
import { type ValleyPoint, valleyPoints } from "./valley-points.js";

export interface FieldFreeZero {
  readonly position_m: Vector3;
  /** |mu0H| that is left there. */
  readonly residual_T: number;
  /** dB_i/dx_j, [9]. */
  readonly gradient_T_per_m: Float64Array;
  readonly isInside: boolean;
  /** `degenerate`: the gradient vanishes with the field (a sextupole, say): nothing to image with. */
  readonly outcome: "converged" | "degenerate" | "stalled" | "iteration-limit";
}

export interface FieldFreeRegion {
  /**
   * `line` when there is one, whatever points are beside it; `points` for several; `degenerate` when no zero has a
   * gradient; `none` when the bore holds no zero; `no-field` when the field is zero everywhere.
   */
  readonly kind: "point" | "points" | "line" | "degenerate" | "none" | "no-field";
  /** Those inside first, each group by distance from the bore's centre. A line is represented by one of its points. */
  readonly zeros: readonly FieldFreeZero[];
  /** Longest first. Empty unless the kind is `line`. */
  readonly lines: readonly FieldFreeLine[];
  /** Of the longest line. */
  readonly direction?: Vector3;
  /** Where |mu0H| is smallest within the bore. */
  readonly smallest: SmallestField;
  /** Field points evaluated. */
  readonly evaluations: number;
}

export interface RegionOptions {
  readonly within: BoreCylinder;
  /**
   * A zero belongs to a line when its weakest gradient is below this part of the strongest. A field-free point of round
   * coils has 1/2, an ideal line 0.
   */
  readonly weakShare?: number;
  /** Residual that a line may have, as a distance across it: default 1 mm. */
  readonly residualLength_m?: number;
  /** A line shorter than this (residual within its limit) counts as an elongated point; default the bore's radius. */
  readonly leastLength_m?: number;
}

/** A zero is one to this part of the median |B| over the bore. */
const zeroShare = 1e-9;
const mostLines = 4;

/**
 * Where mu0H = 0 within a bore: a coarse grid, Newton's method from every promising place, valleys followed.
 *   r_{k+1} = r_k - J(r_k)^{-1} B(r_k)
 *
 * Valid for   fields that are smooth within 1.5 times the bore; zeros further apart than about 0.3 radius
 * Source      Newton's method, common practice
 * Checked by  field-free-region.test.ts (harmonic polynomials), checks/field-free (loops, 30 digits)
 */
export function findFieldFreeRegion(field: FieldFunction, options: RegionOptions): FieldFreeRegion {
  const { within, weakShare = 0.1, leastLength_m = within.radius_m } = options;
  requireBore(within);
  let evaluations = 0;
  const counted: FieldFunction = (points_m, out) => {
    evaluations += points_m.length / 3;
    return field(points_m, out);
  };
  const coarse = coarseSearch(counted, within);
  if (coarse.typical_T === 0 && coarse.smallest.field_T === 0)
    return { kind: "no-field", zeros: [], lines: [], smallest: coarse.smallest, evaluations };
  const scene: Scene = { field: counted, within, spacing_m: coarse.spacing_m, zero_T: zeroShare * coarse.typical_T };
  const found = valleyPoints(counted, coarse.starts_m, { within, weakShare, largestStep_m: coarse.spacing_m });
  const valleys = traceAll(
    scene,
    found.filter((point) => point.rank === 2 && isInBore(within, point.position_m)),
  );
  const lines = valleys
    .map((valley) => describeLine(counted, valley, options))
    .filter((line) => line.lengthBelow_m >= leastLength_m && !isFlat(scene, line.gradient_T_per_m))
    .sort((a, b) => b.lengthBelow_m - a.lengthBelow_m);
  const zeros = distinct(scene, [
    ...found.filter(({ rank }) => rank !== 2),
    ...valleys.flatMap((valley) => zerosOf(scene, valley)),
  ]);
  const smallest = smallestOf(scene, zeros, coarse.smallest);
  return {
    kind: kindOf(zeros, lines),
    zeros,
    lines,
    ...(lines.length > 0 ? { direction: lines[0].direction } : {}),
    smallest,
    evaluations,
  };
}

interface Scene {
  readonly field: FieldFunction;
  readonly within: BoreCylinder;
  readonly spacing_m: number;
  readonly zero_T: number;
}

/** Valleys through the points, each traced once, best points first. */
function traceAll({ field, within, spacing_m }: Scene, points: readonly ValleyPoint[]): Valley[] {
  const valleys: Valley[] = [];
  const byField = [...points].sort((a, b) => length(a.field_T) - length(b.field_T));
  const stride_m = Math.min(spacing_m, within.radius_m / 4) / 2;
  for (const point of byField) {
    const isOnOne = valleys.some(({ positions_m }) =>
      positions_m.some((place) => distance(place, point.position_m) < stride_m),
    );
    if (isOnOne || valleys.length === mostLines) continue;
    valleys.push(traceValley(field, point, { within, spacing_m: stride_m }));
  }
  return valleys;
}

/** Field-free points on a valley: where the field along it turns, or, if it is zero all along, the place nearest the centre. */
function zerosOf(scene: Scene, { positions_m, residual_T, along_T }: Valley): ValleyPoint[] {
  const { within, field, zero_T, spacing_m } = scene;
  const starts: Vector3[] = [];
  for (let i = 0; i + 1 < along_T.length; i++) {
    const [a, b] = [along_T[i], along_T[i + 1]];
    if (a * b > 0 || Math.max(Math.abs(a), Math.abs(b)) <= zero_T) continue;
    starts.push(moved(positions_m[i], moved(positions_m[i + 1], positions_m[i], -1), a / (a - b)));
  }
  const nearest = nearestFree(within.center_m ?? [0, 0, 0], positions_m, (i) => residual_T[i] <= zero_T);
  if (nearest !== undefined) starts.push(nearest);
  return valleyPoints(field, starts, { within, weakShare: 1e-4, largestStep_m: spacing_m / 4 }).filter((point) =>
    positions_m.some((place) => distance(place, point.position_m) < spacing_m),
  );
}

/** The point nearest to `center` on those pieces of a path whose both ends are free. */
function nearestFree(
  center: Vector3,
  path: readonly Vector3[],
  isFree: (place: number) => boolean,
): Vector3 | undefined {
  let nearest: Vector3 | undefined;
  for (let i = 0; i < path.length; i++) {
    if (!isFree(i)) continue;
    const piece = i + 1 < path.length && isFree(i + 1) ? moved(path[i + 1], path[i], -1) : undefined;
    const along = piece === undefined ? 0 : dot(moved(center, path[i], -1), piece) / dot(piece, piece);
    const place = piece === undefined ? path[i] : moved(path[i], piece, Math.max(0, Math.min(1, along)));
    if (nearest === undefined || distance(place, center) < distance(nearest, center)) nearest = place;
  }
  return nearest;
}

/** Those that are zeros, each once, inside first. */
function distinct(scene: Scene, points: readonly ValleyPoint[]): FieldFreeZero[] {
  const { within, zero_T } = scene;
  const center = within.center_m ?? [0, 0, 0];
  const zeros: FieldFreeZero[] = [];
  for (const point of points) {
    const residual_T = length(point.field_T);
    const isKnown = zeros.some(({ position_m }) => distance(position_m, point.position_m) < 1e-6 * within.radius_m);
    if (isKnown || !(residual_T <= zero_T)) continue;
    zeros.push({
      position_m: point.position_m,
      residual_T,
      gradient_T_per_m: point.gradient_T_per_m,
      isInside: isInBore(within, point.position_m),
      outcome: isFlat(scene, point.gradient_T_per_m) ? "degenerate" : point.outcome,
    });
  }
  return zeros.sort(
    (a, b) =>
      Number(b.isInside) - Number(a.isInside) || distance(a.position_m, center) - distance(b.position_m, center),
  );
}

/** A gradient that would need 1e4 radii to make the field of the bore is none. */
function isFlat({ within, zero_T }: Scene, gradient_T_per_m: Float64Array): boolean {
  return frobenius(gradient_T_per_m) * within.radius_m < (1e-4 / zeroShare) * zero_T;
}

function smallestOf(
  { field, within, spacing_m }: Scene,
  zeros: readonly FieldFreeZero[],
  from: SmallestField,
): SmallestField {
  const inside = zeros.filter(({ isInside }) => isInside);
  if (inside.length === 0) return smallestField(field, within, { from, spacing_m });
  const best = inside.reduce((a, b) => (b.residual_T < a.residual_T ? b : a));
  return { position_m: best.position_m, field_T: best.residual_T };
}

function kindOf(zeros: readonly FieldFreeZero[], lines: readonly FieldFreeLine[]): FieldFreeRegion["kind"] {
  if (lines.length > 0) return "line";
  const inside = zeros.filter(({ isInside }) => isInside);
  const usable = inside.filter(({ outcome }) => outcome !== "degenerate").length;
  if (inside.length === 0) return "none";
  if (usable === 0) return "degenerate";
  return usable === 1 ? "point" : "points";
}
