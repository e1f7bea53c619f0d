/**
 * Upper-triangular reduction of a tall matrix together with a right-hand side, by Householder reflections.
 *   A = Q·R,  c = Qᵀ·b   so that  ‖A·x − b‖² = ‖R·x − c‖² + constant
 * Works on the matrix itself, so its accuracy follows cond(A) and not cond(A)² as the normal equations would.
 *
 * @param a  row-major, shape [m, n] with m >= n; overwritten
 * @param b  shape [m]; overwritten with Qᵀ·b (its first n entries are c)
 * @param n  columns
 * @returns R, row-major, shape [n, n]
 *
 * Source      Golub & Van Loan, Matrix Computations, Householder QR; common practice.
 * Checked by  householder.test.ts
 */
export function triangularise(a: Float64Array, b: Float64Array, n: number): Float64Array {
  const m = b.length;
  const r = new Float64Array(n * n);
  for (let j = 0; j < n; j++) {
    r[j * n + j] = reflectColumn(a, b, { m, n, j });
    for (let k = j + 1; k < n; k++) r[j * n + k] = a[j * n + k];
  }
  return r;
}

/** Applies the reflection that clears column j below the diagonal to the columns right of it and to b; gives R[j, j]. */
function reflectColumn(a: Float64Array, b: Float64Array, { m, n, j }: { m: number; n: number; j: number }): number {
  const norm = columnNorm(a, { m, n, j });
  const head = a[j * n + j];
  if (norm === 0) return 0;
  const diagonal = head > 0 ? -norm : norm; // opposite sign: head − diagonal never cancels
  a[j * n + j] = head - diagonal;
  const scale = 1 / (diagonal * (head - diagonal)); // = −2/‖v‖², v being the stored column
  for (let k = j + 1; k < n; k++) {
    let dot = 0;
    for (let i = j; i < m; i++) dot += a[i * n + j] * a[i * n + k];
    dot *= scale;
    for (let i = j; i < m; i++) a[i * n + k] = a[i * n + k] + dot * a[i * n + j];
  }
  let dot = 0;
  for (let i = j; i < m; i++) dot += a[i * n + j] * b[i];
  dot *= scale;
  for (let i = j; i < m; i++) b[i] = b[i] + dot * a[i * n + j];
  return diagonal;
}

/** Scaled by the largest entry, so that tiny SI values do not underflow when squared. */
function columnNorm(a: Float64Array, { m, n, j }: { m: number; n: number; j: number }): number {
  let largest = 0;
  for (let i = j; i < m; i++) largest = Math.max(largest, Math.abs(a[i * n + j]));
  if (largest === 0) return 0;
  let sum = 0;
  for (let i = j; i < m; i++) sum += (a[i * n + j] / largest) ** 2;
  return largest * Math.sqrt(sum);
}
