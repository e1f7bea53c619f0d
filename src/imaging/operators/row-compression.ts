import { jacobiSvd } from "../../numerics/index.js";
import type { RasterSpectrum } from "./raster-spectrum.js";

/**
 * The rows of a line (harmonics of all its patches) are far from independent: overlapping patches see the same tracer.
 * An orthonormal basis of what the operator can reach replaces them by fewer, without changing any solution:
 *   y' = Qᵀ y,  A' = Qᵀ A,  Qᵀ Q = I
 * White noise stays white with the same sd, and what is left out is what Aᵀ would have annihilated.
 */
export interface RowCompression {
  readonly fullRows: number;
  readonly rows: number;
  /** [fullRows × rows] */
  readonly basis: Float64Array;
  /** Largest singular value left out over the largest kept. */
  readonly leftOut: number;
}

export interface CompressedSpectrum {
  readonly spectrum: RasterSpectrum;
  readonly compression: RowCompression;
}

/** Keeps every direction whose singular value is above `tolerance` of the largest. */
export function compressRows(
  full: RasterSpectrum,
  { tolerance = 1e-7 }: { tolerance?: number } = {},
): CompressedSpectrum {
  const { rows: n, depth, blocks } = full;
  const gram = new Float64Array(n * n);
  for (let start = 0; start < blocks.length; start += n * depth)
    for (let i = 0; i < n; i++)
      for (let j = 0; j <= i; j++) {
        let sum = 0;
        for (let d = 0; d < depth; d++) sum += blocks[start + i * depth + d] * blocks[start + j * depth + d];
        gram[i * n + j] += sum;
      }
  for (let i = 0; i < n; i++) for (let j = 0; j < i; j++) gram[j * n + i] = gram[i * n + j];
  // Singular vectors of a symmetric non-negative matrix are its eigenvectors; its values are the squares we compare.
  const { s: values, u: vectors } = jacobiSvd(gram, [n, n]);
  const rows = values.filter((value) => value > tolerance ** 2 * values[0]).length;
  const basis = new Float64Array(n * rows);
  for (let i = 0; i < n; i++) for (let r = 0; r < rows; r++) basis[i * rows + r] = vectors[i * n + r];
  const compression = {
    fullRows: n,
    rows,
    basis,
    leftOut: rows < n ? Math.sqrt(Math.max(0, values[rows]) / values[0]) : 0,
  };
  return { compression, spectrum: { ...full, rows, blocks: compressBlocks(full, compression) } };
}

function compressBlocks({ blocks, rows: n, depth }: RasterSpectrum, { basis, rows }: RowCompression): Float64Array {
  const count = blocks.length / (n * depth);
  const out = new Float64Array(count * rows * depth);
  for (let block = 0; block < count; block++)
    for (let i = 0; i < n; i++)
      for (let r = 0; r < rows; r++) {
        const weight = basis[i * rows + r];
        const from = (block * n + i) * depth;
        const to = (block * rows + r) * depth;
        for (let d = 0; d < depth; d++) out[to + d] += weight * blocks[from + d];
      }
  return out;
}

/** Qᵀ y for every line. @param y [lines × fullRows] @returns [lines × rows] */
export function compressData(y: Float64Array, { basis, fullRows, rows }: RowCompression): Float64Array {
  const lines = y.length / fullRows;
  const out = new Float64Array(lines * rows);
  for (let line = 0; line < lines; line++)
    for (let i = 0; i < fullRows; i++)
      for (let r = 0; r < rows; r++) out[line * rows + r] += basis[i * rows + r] * y[line * fullRows + i];
  return out;
}

/** Q y' for every line: the same numbers among the full rows. */
export function expandData(y: Float64Array, { basis, fullRows, rows }: RowCompression): Float64Array {
  const lines = y.length / rows;
  const out = new Float64Array(lines * fullRows);
  for (let line = 0; line < lines; line++)
    for (let i = 0; i < fullRows; i++)
      for (let r = 0; r < rows; r++) out[line * fullRows + i] += basis[i * rows + r] * y[line * rows + r];
  return out;
}
