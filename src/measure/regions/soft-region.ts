import { type RasterGeometry, rasterSizes, voxelCenter_m, voxelVolume_m3 } from "../../imaging/index.js";
import { axes, axisIndex } from "../../physics/index.js";
import { type RegionShape, worldSteps } from "./region-weights.js";

/** Width of the soft margin around a contour, m. */
export interface Halo {
  readonly across_m: number;
  readonly along_m: number;
}

/**
 * Weights of a region with a soft margin: 1 inside the contour, falling smoothly to 0 over the halo, times the voxel's
 * volume (m³), in the operator's internal order. What a map blurs out of a contour is collected by the margin; a hard edge
 * would ask the map for detail that it does not hold and pay for it in noise.
 */
export function softRegionWeights(geometry: RasterGeometry, shape: RegionShape, halo: Halo): Float64Array {
  const { columnsA, columnsB, depth, voxels } = rasterSizes(geometry);
  const driveIndex = axisIndex(geometry.raster.driveAxis);
  const margin = axes.map((_, axis) => (axis === driveIndex ? halo.along_m : halo.across_m)) as [
    number,
    number,
    number,
  ];
  const step = worldSteps(geometry);
  const volume = voxelVolume_m3(geometry);
  const out = new Float64Array(voxels);
  for (let b = 0; b < columnsB; b++)
    for (let a = 0; a < columnsA; a++)
      for (let d = 0; d < depth; d++) {
        const center = voxelCenter_m(geometry, a, b, d);
        out[(b * columnsA + a) * depth + d] = volume * voxelMean(shape, margin, center, step);
      }
  return out;
}

const sub = [-1 / 3, 0, 1 / 3];

function voxelMean(
  shape: RegionShape,
  margin: readonly number[],
  center: readonly number[],
  step: readonly number[],
): number {
  let sum = 0;
  for (const z of sub)
    for (const y of sub)
      for (const x of sub)
        sum += smoothFall(
          distanceOutside(shape, margin, [center[0] + x * step[0], center[1] + y * step[1], center[2] + z * step[2]]),
        );
  return sum / 27;
}

/** 1 at 0 and below, 0 at 1 and above. */
function smoothFall(u: number): number {
  const t = Math.min(1, Math.max(0, u));
  return 1 - t * t * (3 - 2 * t);
}

/** Distance outside the contour in units of the halo (its own width for each direction). */
function distanceOutside(shape: RegionShape, margin: readonly number[], point: readonly number[]): number {
  const d = [0, 1, 2].map((axis) => point[axis] - shape.center_m[axis]);
  if (shape.kind === "sphere") {
    const r = Math.hypot(d[0], d[1], d[2]);
    const beyond = r - shape.diameter_m / 2;
    if (beyond <= 0) return 0;
    return Math.hypot(...d.map((part, axis) => (beyond * part) / r / Math.max(margin[axis], 1e-9)));
  }
  const beyond = d.map((part, axis) => Math.max(0, Math.abs(part) - shape.size_m[axis] / 2));
  return Math.hypot(...beyond.map((part, axis) => part / Math.max(margin[axis], 1e-9)));
}
