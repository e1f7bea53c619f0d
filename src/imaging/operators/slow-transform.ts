/**
 * Orthonormal real Fourier basis of a circle of n points, n even: the row of index m is
 *   cos(2πkx/n) for m = k ≤ n/2,  sin(2πkx/n) for m = n/2 + k, 0 < k < n/2,  scaled to unit norm.
 * A convolution with an even kernel is diagonal in it, with the kernel's (real) spectrum at frequency k(m).
 *
 * @param positions  the points that are used (the others hold zeros or are not asked for), may be negative
 * @returns [n × positions.length] row-major
 */
export function realFourierRows(n: number, positions: readonly number[]): Float64Array {
  const count = positions.length;
  const rows = new Float64Array(n * count);
  for (let m = 0; m < n; m++) {
    const k = frequencyOf(m, n);
    const isSine = m > n / 2;
    const norm = Math.sqrt((k === 0 || k === n / 2 ? 1 : 2) / n);
    positions.forEach((x, i) => {
      const angle = (2 * Math.PI * k * x) / n;
      rows[m * count + i] = norm * (isSine ? Math.sin(angle) : Math.cos(angle));
    });
  }
  return rows;
}

/** Frequency of basis row m. */
export const frequencyOf = (m: number, n: number): number => (m <= n / 2 ? m : m - n / 2);

/**
 * out[i][..] = Σ_j M[i][j] x[j][..] for runs of length `inner`; `outer` such products lie behind each other.
 *
 * @param x  [outer, columns, inner]
 * @param out  [outer, rows, inner], overwritten; not `x`
 */
export function applyAlong(
  matrix: Float64Array,
  [outer, rows, columns, inner]: readonly [number, number, number, number],
  x: Float64Array,
  out: Float64Array,
): void {
  out.fill(0, 0, outer * rows * inner);
  for (let o = 0; o < outer; o++)
    for (let i = 0; i < rows; i++) {
      const to = (o * rows + i) * inner;
      for (let j = 0; j < columns; j++) {
        const weight = matrix[i * columns + j];
        const from = (o * columns + j) * inner;
        for (let k = 0; k < inner; k++) out[to + k] += weight * x[from + k];
      }
    }
}

/** Transposed matrix, row-major. */
export function transposed(matrix: Float64Array, rows: number, columns: number): Float64Array {
  const out = new Float64Array(rows * columns);
  for (let i = 0; i < rows; i++) for (let j = 0; j < columns; j++) out[j * rows + i] = matrix[i * columns + j];
  return out;
}
