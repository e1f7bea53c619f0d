import { jacobiSvd } from "../../numerics/index.js";
import type { RasterGeometry } from "./raster-geometry.js";
import type { RasterKernels } from "./raster-kernels.js";

/**
 * The rows of a line (harmonics of all its patches) are far from independent: overlapping patches see the same tracer.
 * An orthonormal basis of what the operator can reach replaces them by fewer:
 *   y' = Qᵀ y,  A' = Qᵀ A,  Qᵀ Q = I
 * White noise stays white with the same sd. What is left out, Aᵀ would have scaled by less than 1e-6 of its largest singular
 * value: solutions change by less than 1e-4 of what noise does to them (measured for relative weights down to 1e-4).
 *
 * The basis respects the mirror along the drive axis: reflecting the tracer about the raster's centre sends harmonic n of
 * patch p to (−1)^{n+1} times that of the mirrored patch. Each new row is even or odd under it.
 */
export interface RowCompression {
  readonly fullRows: number;
  readonly rows: number;
  /** [fullRows × rows] */
  readonly basis: Float64Array;
  /** +1 even, −1 odd, per row; even rows come first. */
  readonly parity: Int8Array;
  /** Largest singular value left out over the largest kept. */
  readonly leftOut: number;
}

export interface CompressedKernels {
  readonly kernels: RasterKernels;
  readonly compression: RowCompression;
}

/** Keeps every direction whose singular value is above `tolerance` of the largest. */
export function compressRows(
  geometry: RasterGeometry,
  full: RasterKernels,
  { tolerance = 1e-6 }: { tolerance?: number } = {},
): CompressedKernels {
  const gram = rowGram(full);
  const halves = ([1, -1] as const).map((parity) => principalRows(gram, full.rows, mirrorPairs(geometry, parity)));
  const largest = Math.max(...halves.map(({ values }) => values[0] ?? 0));
  const kept = halves.map(({ values }) => values.filter((value) => value > tolerance ** 2 * largest).length);
  const rows = kept[0] + kept[1];
  const basis = new Float64Array(full.rows * rows);
  const parity = new Int8Array(rows);
  let column = 0;
  let leftOut = 0;
  halves.forEach(({ values, vectors }, half) => {
    leftOut = Math.max(leftOut, Math.sqrt(Math.max(0, values[kept[half]] ?? 0) / largest));
    for (let k = 0; k < kept[half]; k++, column++) {
      parity[column] = half === 0 ? 1 : -1;
      for (let i = 0; i < full.rows; i++) basis[i * rows + column] = vectors[i * values.length + k];
    }
  });
  const compression = { fullRows: full.rows, rows, basis, parity, leftOut };
  return { compression, kernels: { ...full, rows, values: compressBlocks(full, compression) } };
}

/** Σ over kernels of K Kᵀ, [rows × rows]. */
function rowGram({ rows: n, depth, values }: RasterKernels): Float64Array {
  const gram = new Float64Array(n * n);
  for (let start = 0; start < values.length; start += n * depth)
    for (let i = 0; i < n; i++)
      for (let j = 0; j <= i; j++) {
        let sum = 0;
        for (let d = 0; d < depth; d++) sum += values[start + i * depth + d] * values[start + j * depth + d];
        gram[i * n + j] += sum;
      }
  for (let i = 0; i < n; i++) for (let j = 0; j < i; j++) gram[j * n + i] = gram[i * n + j];
  return gram;
}

interface MirrorPair {
  readonly row: number;
  readonly mirror: number;
  /** Sign with which the mirrored row enters. */
  readonly sign: number;
}

/** Row pairs that are even (or odd) under the mirror; a row that is its own mirror has one of the two parities only. */
function mirrorPairs({ raster, harmonics }: RasterGeometry, parity: 1 | -1): MirrorPair[] {
  const kept = harmonics.last - harmonics.first + 1;
  const pairs: MirrorPair[] = [];
  for (let p = 0; 2 * p < raster.patches.count; p++)
    for (let h = 0; h < kept; h++) {
      const own = (harmonics.first + h) % 2 === 1 ? 1 : -1;
      const mirrored = raster.patches.count - 1 - p;
      if (mirrored === p && own !== parity) continue;
      pairs.push({ row: p * kept + h, mirror: mirrored * kept + h, sign: own * parity });
    }
  return pairs;
}

/** Eigenvectors of the Gram matrix within one parity, written out over the full rows: [rows × pairs]. */
function principalRows(gram: Float64Array, rows: number, pairs: readonly MirrorPair[]) {
  const n = pairs.length;
  if (n === 0) return { values: new Float64Array(0), vectors: new Float64Array(0) };
  const norm = pairs.map(({ row, mirror }) => (row === mirror ? 0.5 : Math.SQRT1_2));
  const at = (i: number, j: number) => gram[i * rows + j];
  const small = new Float64Array(n * n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++) {
      const [a, b] = [pairs[i], pairs[j]];
      small[i * n + j] =
        norm[i] *
        norm[j] *
        (at(a.row, b.row) +
          b.sign * at(a.row, b.mirror) +
          a.sign * at(a.mirror, b.row) +
          a.sign * b.sign * at(a.mirror, b.mirror));
    }
  // Singular vectors of a symmetric non-negative matrix are its eigenvectors; its values are the squares we compare.
  const { s: values, u } = jacobiSvd(small, [n, n]);
  const vectors = new Float64Array(rows * n);
  pairs.forEach(({ row, mirror, sign }, i) => {
    for (let k = 0; k < n; k++) {
      vectors[row * n + k] += norm[i] * u[i * n + k];
      vectors[mirror * n + k] += norm[i] * sign * u[i * n + k];
    }
  });
  return { values, vectors };
}

function compressBlocks({ values, rows: n, depth }: RasterKernels, { basis, rows }: RowCompression): Float64Array {
  const count = values.length / (n * depth);
  const out = new Float64Array(count * rows * depth);
  for (let block = 0; block < count; block++)
    for (let i = 0; i < n; i++)
      for (let r = 0; r < rows; r++) {
        const weight = basis[i * rows + r];
        const from = (block * n + i) * depth;
        const to = (block * rows + r) * depth;
        for (let d = 0; d < depth; d++) out[to + d] += weight * values[from + d];
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
