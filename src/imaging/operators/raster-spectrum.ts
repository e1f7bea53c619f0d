import { type RasterGeometry, rasterSizes } from "./raster-geometry.js";
import { kernelStart, type RasterKernels } from "./raster-kernels.js";

/**
 * The kernels' spectrum over the two slow axes. A line raster is a convolution across its lines (ideal gradient, equal
 * pitch) and dense along the drive axis. The kernel is even in Δa and Δb, so its spectrum is real and even: only the
 * quarter with both frequencies in 0..F/2 is kept.
 */
export interface RasterSpectrum {
  /** Padded sizes of the circular convolution along a and b, even, so large that nothing wraps onto a line. */
  readonly sizeA: number;
  readonly sizeB: number;
  readonly quarterA: number;
  readonly quarterB: number;
  readonly rows: number;
  readonly depth: number;
  /** [quarterB × quarterA × rows × depth]; V per kg/m³ */
  readonly blocks: Float64Array;
}

export function buildSpectrum(geometry: RasterGeometry, kernels: RasterKernels): RasterSpectrum {
  const { linesA, linesB, columnsA, columnsB } = rasterSizes(geometry);
  const { reachA, reachB, rows, depth } = kernels;
  const sizeA = evenAtLeast(linesA + columnsA - 1);
  const sizeB = evenAtLeast(linesB + columnsB - 1);
  const quarterA = sizeA / 2 + 1;
  const quarterB = sizeB / 2 + 1;
  const block = rows * depth;
  // First along a for each Δb, then along b.
  const alongA = new Float64Array((reachB + 1) * quarterA * block);
  for (let db = 0; db <= reachB; db++)
    for (let da = 0; da <= reachA; da++)
      for (let ka = 0; ka < quarterA; ka++) {
        const to = (db * quarterA + ka) * block;
        addScaled(alongA, to, kernels.values, kernelStart(kernels, da, db), evenWeight(da, ka, sizeA), block);
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
  (distance === 0 || 2 * distance === n ? 1 : 2) * Math.cos((2 * Math.PI * distance * k) / n);

function addScaled(to: Float64Array, i: number, from: Float64Array, j: number, weight: number, count: number): void {
  for (let k = 0; k < count; k++) to[i + k] += weight * from[j + k];
}

const evenAtLeast = (n: number) => n + (n % 2);
