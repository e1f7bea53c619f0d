import { FerruleError } from "../../errors.js";
import {
  contains,
  type IronObject,
  type RasterGeometry,
  rasterSizes,
  voxelCenter_m,
  voxelSize_m,
} from "../../imaging/index.js";

/** A region by its shape in world coordinates, m. */
export type RegionShape =
  Extract<IronObject, { kind: "sphere" | "box" }> extends infer Solid
    ? Solid extends { iron_kg: number }
      ? Omit<Solid, "iron_kg">
      : never
    : never;

/**
 * Volume of every voxel that lies inside a region, m³ (5 × 5 × 5 samples a voxel), in the operator's internal order.
 * The region's mass is the sum of weights times concentration.
 *
 * @throws FerruleError  InvalidValue when part of the region lies outside the voxels: its mass could not be whole
 */
export function regionWeights(geometry: RasterGeometry, shape: RegionShape, { path = "region" } = {}): Float64Array {
  const { columnsA, columnsB, depth, voxels } = rasterSizes(geometry);
  const size = voxelSize_m(geometry);
  const volume = size[0] * size[1] * size[2];
  const solid = { ...shape, iron_kg: 0 } as IronObject;
  const weights = new Float64Array(voxels);
  let inside = 0;
  for (let b = 0; b < columnsB; b++)
    for (let a = 0; a < columnsA; a++)
      for (let d = 0; d < depth; d++) {
        const share = insideShare(solid, voxelCenter_m(geometry, a, b, d), worldSteps(geometry));
        weights[(b * columnsA + a) * depth + d] = share * volume;
        inside += share * volume;
      }
  const whole = shapeVolume_m3(shape);
  if (inside < 0.98 * whole)
    throw new FerruleError("InvalidValue", {
      path,
      found: `a region of which ${((inside / whole) * 100).toFixed(0)} % lies within the map`,
      accepted: "a region that lies inside the map, or a larger map",
    });
  return weights;
}

/** Voxel edges in axis order x, y, z, m. */
export function worldSteps(geometry: RasterGeometry): [number, number, number] {
  const origin = voxelCenter_m(geometry, 0, 0, 0);
  const step = voxelCenter_m(geometry, 1, 1, 1);
  return [0, 1, 2].map((axis) => Math.abs(step[axis] - origin[axis])) as [number, number, number];
}

export function shapeVolume_m3(shape: RegionShape): number {
  if (shape.kind === "sphere") return (Math.PI / 6) * shape.diameter_m ** 3;
  return shape.size_m[0] * shape.size_m[1] * shape.size_m[2];
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
  let inside = 0;
  for (const z of sub)
    for (const y of sub)
      for (const x of sub)
        if (contains(solid, [center[0] + x * step[0], center[1] + y * step[1], center[2] + z * step[2]])) inside++;
  return inside / 125;
}

function farAway(solid: IronObject, center: readonly number[], step: readonly number[]): boolean {
  if (solid.kind === "point") return true;
  const half =
    solid.kind === "sphere" ? [0, 1, 2].map(() => solid.diameter_m / 2) : solid.size_m.map((edge) => edge / 2);
  return [0, 1, 2].some((axis) => Math.abs(center[axis] - solid.center_m[axis]) > half[axis] + step[axis] / 2);
}
