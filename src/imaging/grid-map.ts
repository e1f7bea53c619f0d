import { axes, axisIndex } from "../physics/index.js";
import { slowAxes } from "./acquisition/line-raster.js";
import { type RasterGeometry, rasterSizes, voxelCenter_m } from "./operators/raster-geometry.js";

/** Regular grid in world axes. Arrays on it are row-major [nz, ny, nx], x fastest. */
export interface Grid {
  readonly shape: readonly [number, number, number];
  /** x, y, z */
  readonly spacing_m: readonly [number, number, number];
  /** Centre of voxel (0, 0, 0): x, y, z */
  readonly origin_m: readonly [number, number, number];
}

/**
 * A map: what it is, its unit, its grid, its values.
 * Kind "signal" shows where tracer is and claims no mass; kind "iron" is a concentration of Fe in kg/m³ (= mg/mL).
 */
export type GridMap =
  | { readonly kind: "signal"; readonly unit: "A.m2/T"; readonly grid: Grid; readonly values: Float64Array }
  | {
      readonly kind: "iron";
      readonly unit: "kg/m3";
      readonly grid: Grid;
      readonly values: Float64Array;
      /** Standard deviation of the linear estimate from coil noise in the patches, same shape. */
      readonly standardUncertainty: Float64Array;
    };

/** The world grid of a raster's voxels. */
export function gridOf(geometry: RasterGeometry): Grid {
  const sizes = rasterSizes(geometry);
  const counts = [sizes.columnsA, sizes.columnsB, sizes.depth];
  const order = [...slowAxes(geometry.raster.driveAxis), geometry.raster.driveAxis].map(axisIndex);
  const first = voxelCenter_m(geometry, 0, 0, 0);
  const second = voxelCenter_m(geometry, 1, 1, 1);
  const count = (axis: number) => counts[order.indexOf(axis)];
  return {
    shape: [count(2), count(1), count(0)],
    spacing_m: [second[0] - first[0], second[1] - first[1], second[2] - first[2]],
    origin_m: first,
  };
}

/** From the operator's order [b][a][d] to the world's [z][y][x]. */
export function toWorldOrder(geometry: RasterGeometry, values: Float64Array): Float64Array {
  const { columnsA, columnsB, depth } = rasterSizes(geometry);
  const { shape } = gridOf(geometry);
  const [axisA, axisB] = slowAxes(geometry.raster.driveAxis);
  const strides = { x: 1, y: shape[2], z: shape[2] * shape[1] };
  const [sa, sb, sd] = [strides[axisA], strides[axisB], strides[geometry.raster.driveAxis]];
  const out = new Float64Array(values.length);
  for (let b = 0; b < columnsB; b++)
    for (let a = 0; a < columnsA; a++)
      for (let d = 0; d < depth; d++) out[b * sb + a * sa + d * sd] = values[(b * columnsA + a) * depth + d];
  return out;
}

/** Total of a map times its voxel volume: kg for an iron map. */
export function mapTotal({ grid, values }: GridMap): number {
  return values.reduce((sum, value) => sum + value, 0) * axes.reduce((v, _, i) => v * grid.spacing_m[i], 1);
}
