import { FerruleError } from "../../errors.js";
import {
  contains,
  type IronObject,
  type RasterGeometry,
  rasterSizes,
  voxelCenter_m,
  voxelSize_m,
} from "../../imaging/index.js";
import { axes } from "../../physics/index.js";

/** A region by its shape in world coordinates, m. */
export type RegionShape =
  Extract<IronObject, { kind: "sphere" | "box" }> extends infer Solid
    ? Solid extends { iron_kg: number }
      ? Omit<Solid, "iron_kg">
      : never
    : never;

/**
 * Volume of every voxel that lies inside a region, m³, in the operator's internal order: exact for a box, 5 × 5 × 5 samples
 * a voxel for a sphere.
 * The region's mass is the sum of weights times concentration.
 *
 * @throws FerruleError  InvalidValue when part of the region lies outside the voxels: its mass could not be whole
 */
export function regionWeights(geometry: RasterGeometry, shape: RegionShape, { path = "region" } = {}): Float64Array {
  const { columnsA, columnsB, depth, voxels } = rasterSizes(geometry);
  const size = voxelSize_m(geometry);
  const volume = size[0] * size[1] * size[2];
  requireInside(geometry, shape, path);
  const solid = { ...shape, iron_kg: 0 } as IronObject;
  const weights = new Float64Array(voxels);
  for (let b = 0; b < columnsB; b++)
    for (let a = 0; a < columnsA; a++)
      for (let d = 0; d < depth; d++) {
        const share = insideShare(solid, voxelCenter_m(geometry, a, b, d), worldSteps(geometry));
        weights[(b * columnsA + a) * depth + d] = share * volume;
      }
  return weights;
}

/** Voxel edges in axis order x, y, z, m. */
export function worldSteps(geometry: RasterGeometry): [number, number, number] {
  const origin = voxelCenter_m(geometry, 0, 0, 0);
  const step = voxelCenter_m(geometry, 1, 1, 1);
  return [0, 1, 2].map((axis) => Math.abs(step[axis] - origin[axis])) as [number, number, number];
}

/** A region must lie within the voxels' outer faces: iron beyond them would be missing from its mass. */
export function requireInside(geometry: RasterGeometry, shape: RegionShape, path: string): void {
  const { columnsA, columnsB, depth } = rasterSizes(geometry);
  const step = worldSteps(geometry);
  const first = voxelCenter_m(geometry, 0, 0, 0);
  const last = voxelCenter_m(geometry, columnsA - 1, columnsB - 1, depth - 1);
  axes.forEach((axis, i) => {
    const half = (shape.kind === "sphere" ? shape.diameter_m : shape.size_m[i]) / 2;
    const low = first[i] - step[i] / 2;
    const high = last[i] + step[i] / 2;
    if (shape.center_m[i] - half >= low - 1e-9 && shape.center_m[i] + half <= high + 1e-9) return;
    const mm = (length_m: number) => `${Number((length_m * 1e3).toPrecision(6))} mm`;
    throw new FerruleError("InvalidValue", {
      path,
      found: `a region that reaches from ${mm(shape.center_m[i] - half)} to ${mm(shape.center_m[i] + half)} along ${axis}`,
      accepted: `a region within the map, ${mm(low)} to ${mm(high)} along ${axis}`,
    });
  });
}

/** The same region with its surface moved outward (or inward) by `distance_m`. */
export function grownRegion(shape: RegionShape, distance_m: number): RegionShape {
  if (shape.kind === "sphere") return { ...shape, diameter_m: Math.max(0, shape.diameter_m + 2 * distance_m) };
  const grow = (edge: number) => Math.max(0, edge + 2 * distance_m);
  return { ...shape, size_m: [grow(shape.size_m[0]), grow(shape.size_m[1]), grow(shape.size_m[2])] };
}

const sub = [-0.4, -0.2, 0, 0.2, 0.4];

function insideShare(
  solid: IronObject,
  center: readonly [number, number, number],
  step: readonly [number, number, number],
): number {
  if (farAway(solid, center, step)) return 0;
  // Samples would count twice where a box's faces fall on them: 17 % of a 2 × 3 × 1 mm box on 1 × 1 × 0.5 mm voxels.
  if (solid.kind === "box") return step.reduce((share, _, axis) => share * boxShare(solid, center, step, axis), 1);
  let inside = 0;
  for (const z of sub)
    for (const y of sub)
      for (const x of sub)
        if (contains(solid, [center[0] + x * step[0], center[1] + y * step[1], center[2] + z * step[2]])) inside++;
  return inside / 125;
}

/** Part of a voxel's extent along one axis that lies between the faces of a box. */
function boxShare(
  { center_m, size_m }: Extract<IronObject, { kind: "box" }>,
  center: readonly number[],
  step: readonly number[],
  axis: number,
): number {
  const from = Math.max(center_m[axis] - size_m[axis] / 2, center[axis] - step[axis] / 2);
  const to = Math.min(center_m[axis] + size_m[axis] / 2, center[axis] + step[axis] / 2);
  return Math.max(0, to - from) / step[axis];
}

function farAway(solid: IronObject, center: readonly number[], step: readonly number[]): boolean {
  if (solid.kind === "point") return true;
  const half =
    solid.kind === "sphere" ? [0, 1, 2].map(() => solid.diameter_m / 2) : solid.size_m.map((edge) => edge / 2);
  return [0, 1, 2].some((axis) => Math.abs(center[axis] - solid.center_m[axis]) > half[axis] + step[axis] / 2);
}
