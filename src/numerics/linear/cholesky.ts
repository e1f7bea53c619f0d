import { FerruleError } from "../../errors.js";

/**
 * Lower Cholesky factor of a symmetric positive-definite matrix.
 *   A = L·Lᵀ
 *
 * @param a  symmetric matrix, row-major, shape [n, n]; only its lower half is read
 * @param n  order
 * @returns L, row-major, shape [n, n], zeros above the diagonal; `undefined` when A is not positive definite
 *          to working precision (an outcome for the caller to explain, not an error here)
 *
 * Valid for   small dense matrices (n up to a few hundred).
 * Source      textbook algorithm (Golub & Van Loan, Matrix Computations, "outer product" form), common practice.
 * Checked by  cholesky.test.ts (closed forms, Hilbert matrix with its exact integer inverse)
 */
export function choleskyFactor(a: Float64Array, n: number): Float64Array | undefined {
  requireSquare(a, n);
  const l = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = a[i * n + j];
      for (let k = 0; k < j; k++) sum -= l[i * n + k] * l[j * n + k];
      if (i !== j) l[i * n + j] = sum / l[j * n + j];
      else {
        // `!(sum > 0)` rather than `sum <= 0`: a NaN anywhere must end here too.
        if (!(sum > 0) || sum === Number.POSITIVE_INFINITY) return undefined;
        l[i * n + i] = Math.sqrt(sum);
      }
    }
  }
  return l;
}

/** Solves L·Lᵀ·x = b. @param l  factor from `choleskyFactor`, [n, n]  @param b  [n]  @param out  [n], may be `b`. */
export function choleskySolve(
  l: Float64Array,
  b: Float64Array,
  out: Float64Array = new Float64Array(b.length),
): Float64Array {
  const n = b.length;
  requireSquare(l, n);
  for (let i = 0; i < n; i++) {
    let sum = b[i];
    for (let k = 0; k < i; k++) sum -= l[i * n + k] * out[k];
    out[i] = sum / l[i * n + i];
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = out[i];
    for (let k = i + 1; k < n; k++) sum -= l[k * n + i] * out[k];
    out[i] = sum / l[i * n + i];
  }
  return out;
}

/** (L·Lᵀ)⁻¹, row-major, exactly symmetric. @param l  factor, [n, n]  @param n  order. */
export function choleskyInverse(l: Float64Array, n: number): Float64Array {
  const inverse = new Float64Array(n * n);
  const column = new Float64Array(n);
  for (let j = 0; j < n; j++) {
    column.fill(0);
    column[j] = 1;
    choleskySolve(l, column, column);
    for (let i = j; i < n; i++) {
      inverse[i * n + j] = column[i];
      inverse[j * n + i] = column[i];
    }
  }
  return inverse;
}

function requireSquare(a: Float64Array, n: number): void {
  if (Number.isInteger(n) && n >= 0 && a.length === n * n) return;
  throw new FerruleError("ShapeMismatch", {
    path: "matrix",
    found: `${a.length} elements for order ${n}`,
    accepted: `a square matrix, row-major, e.g. ${n * n} elements for order ${n}`,
  });
}
