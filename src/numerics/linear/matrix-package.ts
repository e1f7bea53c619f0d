import type { Matrix } from "ml-matrix";

/**
 * SVD and least-squares solution of mid-sized dense matrices by ml-matrix (Golub-Kahan, Householder QR).
 * The package is loaded on first use: nothing that merely imports the numerics layer pays for it.
 * For a few columns (fits) use `jacobiSvd`, which is synchronous and keeps small singular values accurate.
 *
 * Checked by  matrix-package.test.ts
 */
export async function svd(
  a: Float64Array,
  [m, n]: readonly [number, number],
): Promise<{ u: Float64Array; s: Float64Array; v: Float64Array }> {
  const { Matrix, SingularValueDecomposition } = await import("ml-matrix");
  const result = new SingularValueDecomposition(toMatrix(Matrix, a, [m, n]), { autoTranspose: true });
  return {
    u: toRowMajor(result.leftSingularVectors),
    s: Float64Array.from(result.diagonal),
    v: toRowMajor(result.rightSingularVectors),
  };
}

/** x that minimises ‖A·x − b‖, by QR. @param a  [m, n], m >= n, full rank  @param b  [m]. */
export async function solveLeastSquares(
  a: Float64Array,
  [m, n]: readonly [number, number],
  b: Float64Array,
): Promise<Float64Array> {
  const { Matrix, QrDecomposition } = await import("ml-matrix");
  return toRowMajor(new QrDecomposition(toMatrix(Matrix, a, [m, n])).solve(toMatrix(Matrix, b, [m, 1])));
}

function toMatrix(M: typeof Matrix, a: Float64Array, [m, n]: readonly [number, number]): Matrix {
  return new M(Array.from({ length: m }, (_, i) => Array.from(a.subarray(i * n, (i + 1) * n))));
}

function toRowMajor(matrix: Matrix): Float64Array {
  return Float64Array.from(matrix.to1DArray());
}
