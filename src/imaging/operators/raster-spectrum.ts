import { type RasterGeometry, rasterSizes } from "./raster-geometry.js";
import { columnKernel } from "./raster-kernel.js";

/**
 * The kernel's spectrum over the two slow axes. A line raster is a convolution across its lines (ideal gradient, equal
 * pitch) and dense along the drive axis. The kernel is even in Δa and Δb, so its spectrum is real and even: only the
 * quarter with both frequencies in 0..F/2 is kept.
 */
export interface RasterSpectrum {
  /** Padded sizes of the circular convolution along a and b; at least lines + columns − 1, so nothing wraps. */
  readonly sizeA: number;
  readonly sizeB: number;
  readonly quarterA: number;
  readonly quarterB: number;
  readonly rows: number;
  readonly depth: number;
  /** [quarterB × quarterA × rows × depth]; V per kg/m³ */
  readonly blocks: Float64Array;
}

export interface BuildOptions {
  /** Called between kernels with the fraction done; may throw to cancel. */
  readonly onProgress?: (fraction: number) => void;
}

export function buildSpectrum(geometry: RasterGeometry, { onProgress }: BuildOptions = {}): RasterSpectrum {
  const { linesA, linesB, columnsA, columnsB, rows, depth } = rasterSizes(geometry);
  const sizeA = evenAtLeast(linesA + columnsA - 1);
  const sizeB = evenAtLeast(linesB + columnsB - 1);
  const reachA = Math.max(1, columnsA - 1 - geometry.voxels.marginLines);
  const reachB = Math.max(1, columnsB - 1 - geometry.voxels.marginLines);
  const quarterA = sizeA / 2 + 1;
  const quarterB = sizeB / 2 + 1;
  const block = rows * depth;
  // First along a for each Δb, then along b.
  const alongA = new Float64Array((reachB + 1) * quarterA * block);
  const kernel = new Float64Array(block);
  for (let db = 0; db <= reachB; db++)
    for (let da = 0; da <= reachA; da++) {
      onProgress?.((db * (reachA + 1) + da) / ((reachB + 1) * (reachA + 1)));
      columnKernel(geometry, da, db, kernel);
      for (let ka = 0; ka < quarterA; ka++)
        addScaled(alongA, (db * quarterA + ka) * block, kernel, 0, evenWeight(da, ka, sizeA), block);
    }
  const blocks = new Float64Array(quarterB * quarterA * block);
  for (let kb = 0; kb < quarterB; kb++)
    for (let db = 0; db <= reachB; db++) {
      const weight = evenWeight(db, kb, sizeB);
      addScaled(blocks, kb * quarterA * block, alongA, db * quarterA * block, weight, quarterA * block);
    }
  return { sizeA, sizeB, quarterA, quarterB, rows, depth, blocks };
}

/** Weight of distance Δ (standing for +Δ and −Δ) in frequency k of a circular transform of length n. */
const evenWeight = (distance: number, k: number, n: number) =>
  (distance === 0 ? 1 : 2) * Math.cos((2 * Math.PI * distance * k) / n);

function addScaled(to: Float64Array, i: number, from: Float64Array, j: number, weight: number, count: number): void {
  for (let k = 0; k < count; k++) to[i + k] += weight * from[j + k];
}

const evenAtLeast = (n: number) => n + (n % 2);

/** Mean squared norm of a column of the operator (interior voxel), (V per kg/m³)²: trace(AᵀA) / voxels by Parseval. */
export function meanColumnEnergy({ sizeA, sizeB, quarterA, quarterB, rows, depth, blocks }: RasterSpectrum): number {
  const block = rows * depth;
  let total = 0;
  for (let kb = 0; kb < quarterB; kb++)
    for (let ka = 0; ka < quarterA; ka++) {
      const multiplicity = (ka === 0 || ka === sizeA / 2 ? 1 : 2) * (kb === 0 || kb === sizeB / 2 ? 1 : 2);
      const start = (kb * quarterA + ka) * block;
      let sum = 0;
      for (let i = 0; i < block; i++) sum += blocks[start + i] ** 2;
      total += multiplicity * sum;
    }
  return total / (sizeA * sizeB * depth);
}
