import type { Steps } from "../../numerics/index.js";
import { type RasterGeometry, rasterSizes } from "./raster-geometry.js";
import { columnKernel } from "./raster-kernel.js";

/**
 * Column kernels for every distance between a line and a voxel column: all that the operator, its spectrum and its
 * factorisation are made from.
 */
export interface RasterKernels {
  /** Largest distances, in lines. */
  readonly reachA: number;
  readonly reachB: number;
  readonly rows: number;
  readonly depth: number;
  /** [(reachB + 1) × (reachA + 1) × rows × depth], V per kg/m³ */
  readonly values: Float64Array;
}

export function* kernelSteps(geometry: RasterGeometry): Steps<RasterKernels> {
  const { linesA, linesB, columnsA, columnsB, rows, depth } = rasterSizes(geometry);
  const margin = geometry.voxels.marginLines;
  const reachA = Math.max(linesA - 1 + margin, columnsA - 1 - margin);
  const reachB = Math.max(linesB - 1 + margin, columnsB - 1 - margin);
  const values = new Float64Array((reachB + 1) * (reachA + 1) * rows * depth);
  for (let db = 0; db <= reachB; db++)
    for (let da = 0; da <= reachA; da++) {
      const index = db * (reachA + 1) + da;
      yield index / ((reachB + 1) * (reachA + 1));
      columnKernel(geometry, da, db, values.subarray(index * rows * depth, (index + 1) * rows * depth));
    }
  return { reachA, reachB, rows, depth, values };
}

/** Start of the kernel at distance (Δa, Δb) in `values`. */
export const kernelStart = ({ reachA, rows, depth }: RasterKernels, stepsA: number, stepsB: number): number =>
  (Math.abs(stepsB) * (reachA + 1) + Math.abs(stepsA)) * rows * depth;
