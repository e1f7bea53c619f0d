import { FerruleError } from "../../errors.js";
import type { RasterModel } from "../../imaging/index.js";
import { unitMassOver } from "./point-deposit.js";
import { grownRegion, type RegionShape, requireInside } from "./region-weights.js";

/** How far the iron's outline and place may be from the drawn contour, m (k = 1). */
export interface ShapeUncertainty {
  readonly contour_m: number;
  readonly position_m: number;
}

/** One kilogram in a contour, as voxel concentrations, and what it becomes when the contour is not where the iron is. */
export interface ShapeFamily {
  /** Averaged over outline and place to second order: what the estimators are corrected for. */
  readonly expected: Float64Array;
  /** Exactly as drawn, evenly filled. */
  readonly drawn: Float64Array;
  /** Drawn together into the middle third. */
  readonly core: Float64Array;
  /** Surface one sd out and one sd in. */
  readonly contour: readonly [Float64Array, Float64Array];
  /** Moved one sd forth and back along x, y, z. */
  readonly moves: readonly (readonly [Float64Array, Float64Array])[];
}

/**
 * A wrong place can only lose iron from a region, on average: the effect is of second order and has a mean. It is
 * corrected for, and only its scatter is left for the budget:
 *   E[f(t)] ≈ f(0) + Σ (f(+1) + f(−1) − 2 f(0))/2  for independent t ~ N(0, 1)
 *
 * Source      second-order expansion of a mean; derived
 */
export function shapeFamily(
  model: Pick<RasterModel, "geometry">,
  shape: RegionShape,
  { uncertainty, path }: { uncertainty: ShapeUncertainty; path: string },
): ShapeFamily {
  requireInside(model.geometry, shape, path);
  refuseBeyondExpansion(shape, uncertainty, path);
  const over = (other: RegionShape) => unitMassOver(model, other);
  const drawn = over(shape);
  const pair = (up: RegionShape, down: RegionShape) => [over(up), over(down)] as const;
  const { contour_m, position_m } = uncertainty;
  const contour =
    contour_m === 0 ? ([drawn, drawn] as const) : pair(grownRegion(shape, contour_m), grownRegion(shape, -contour_m));
  const moves =
    position_m === 0
      ? []
      : [0, 1, 2].map((axis) => pair(movedRegion(shape, axis, position_m), movedRegion(shape, axis, -position_m)));
  const expected = drawn.slice();
  for (const [up, down] of [contour, ...moves])
    for (let i = 0; i < expected.length; i++) expected[i] += (up[i] + down[i]) / 2 - drawn[i];
  return { expected, drawn, core: over(scaledRegion(shape, 1 / 3)), contour, moves };
}

/** The second-order expansion holds while the contour stays a contour and the place stays within it. */
function refuseBeyondExpansion(shape: RegionShape, { contour_m, position_m }: ShapeUncertainty, path: string): void {
  const half = shape.kind === "sphere" ? shape.diameter_m / 2 : Math.min(...shape.size_m) / 2;
  const mm = (length_m: number) => `${Number((length_m * 1e3).toPrecision(3))} mm`;
  if (contour_m <= half && position_m <= 1.5 * half) return;
  throw new FerruleError("NotIdentifiable", {
    path,
    found: `a contour known to ${mm(contour_m)} and a place known to ${mm(position_m)}, for a region of half-width ${mm(half)}`,
    accepted: `a contour uncertainty up to ${mm(half)} and a position uncertainty up to ${mm(1.5 * half)}, or a larger region`,
  });
}

/** sd of a first- and second-order effect of a standard normal t, from its values at t = −1, 0, 1. */
export function effectSd(down: number, middle: number, up: number): number {
  const slope = (up - down) / 2;
  const bend = up + down - 2 * middle;
  return Math.sqrt(slope * slope + (bend * bend) / 2);
}

function scaledRegion(shape: RegionShape, factor: number): RegionShape {
  if (shape.kind === "sphere") return { ...shape, diameter_m: shape.diameter_m * factor };
  const [x, y, z] = shape.size_m;
  return { ...shape, size_m: [x * factor, y * factor, z * factor] };
}

function movedRegion(shape: RegionShape, axis: number, distance_m: number): RegionShape {
  const center = [...shape.center_m] as [number, number, number];
  center[axis] += distance_m;
  return { ...shape, center_m: center };
}
