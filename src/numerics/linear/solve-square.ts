import { FerruleError } from "../../errors.js";

/**
 * Solution of a small dense square system by Gaussian elimination with partial pivoting.
 *   A x = b
 *
 * @param a  row-major, shape [n, n]; left as it is
 * @param b  [n]; left as it is
 * @returns x, or `undefined` when a pivot is below 1e-13 of the largest element: singular to working precision
 *
 * Valid for   n up to a few hundred
 * Source      textbook algorithm, common practice
 * Checked by  solve-square.test.ts (Hilbert matrix with its integer inverse, permutations)
 */
export function solveSquare(a: Float64Array, b: Float64Array): Float64Array | undefined {
  const n = b.length;
  if (a.length !== n * n)
    throw new FerruleError("ShapeMismatch", {
      path: "a",
      found: `${a.length} values`,
      accepted: `${n * n} for ${n} unknowns`,
    });
  const m = Float64Array.from(a);
  const x = Float64Array.from(b);
  const largest = m.reduce((max, value) => Math.max(max, Math.abs(value)), 0);
  for (let k = 0; k < n; k++) {
    let pivot = k;
    for (let i = k + 1; i < n; i++) if (Math.abs(m[i * n + k]) > Math.abs(m[pivot * n + k])) pivot = i;
    if (!(Math.abs(m[pivot * n + k]) > 1e-13 * largest)) return undefined;
    swapRows(m, x, n, k, pivot);
    for (let i = k + 1; i < n; i++) {
      const factor = m[i * n + k] / m[k * n + k];
      for (let j = k; j < n; j++) m[i * n + j] -= factor * m[k * n + j];
      x[i] -= factor * x[k];
    }
  }
  for (let i = n - 1; i >= 0; i--) {
    for (let j = i + 1; j < n; j++) x[i] -= m[i * n + j] * x[j];
    x[i] /= m[i * n + i];
  }
  return x;
}

function swapRows(m: Float64Array, x: Float64Array, n: number, i: number, j: number): void {
  if (i === j) return;
  for (let k = 0; k < n; k++) {
    const held = m[i * n + k];
    m[i * n + k] = m[j * n + k];
    m[j * n + k] = held;
  }
  const held = x[i];
  x[i] = x[j];
  x[j] = held;
}
