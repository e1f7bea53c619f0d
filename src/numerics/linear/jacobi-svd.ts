import { FerruleError } from "../../errors.js";

export interface SingularValues {
  /** Left vectors as columns, row-major, [m, n]; a column of zeros belongs to a zero singular value. */
  readonly u: Float64Array;
  /** Singular values, largest first, [n]. */
  readonly s: Float64Array;
  /** Right vectors as columns, row-major, [n, n]. */
  readonly v: Float64Array;
}

/**
 * Singular value decomposition of a small matrix by one-sided Jacobi rotations.
 *   A = U·diag(s)·Vᵀ
 * Chosen over a bidiagonal method because it keeps small singular values to high relative accuracy, which is what
 * decides whether a parameter is determined by the data.
 *
 * @param a  row-major, shape [m, n], m >= n; left as it is
 *
 * Valid for   n up to about 50 (cost about 10·m·n² per sweep, some 5 to 10 sweeps).
 * Source      Hestenes (1958); Demmel & Veselić, SIAM J. Matrix Anal. 13:1204 (1992); from memory.
 * Checked by  jacobi-svd.test.ts (closed forms, ml-matrix as an independent implementation)
 */
export function jacobiSvd(a: Float64Array, [m, n]: readonly [number, number]): SingularValues {
  if (a.length !== m * n || m < n)
    throw new FerruleError("ShapeMismatch", {
      path: "matrix",
      found: `${a.length} elements for shape [${m}, ${n}]`,
      accepted: "a row-major matrix with at least as many rows as columns, e.g. [4, 2] with 8 elements",
    });
  const u = Float64Array.from(a);
  const v = new Float64Array(n * n);
  for (let j = 0; j < n; j++) v[j * n + j] = 1;
  // 60 sweeps are never used (convergence is quadratic); the bound only keeps NaN input from looping.
  for (let sweep = 0; sweep < 60; sweep++) {
    let rotated = false;
    for (let p = 0; p < n - 1; p++)
      for (let q = p + 1; q < n; q++) rotated = orthogonalise(u, v, { m, n, p, q }) || rotated;
    if (!rotated) break;
  }
  return sortedBySize(u, v, [m, n]);
}

interface Pair {
  readonly m: number;
  readonly n: number;
  readonly p: number;
  readonly q: number;
}

function orthogonalise(u: Float64Array, v: Float64Array, { m, n, p, q }: Pair): boolean {
  let alpha = 0;
  let beta = 0;
  let gamma = 0;
  for (let i = 0; i < m; i++) {
    const x = u[i * n + p];
    const y = u[i * n + q];
    alpha += x * x;
    beta += y * y;
    gamma += x * y;
  }
  if (!(Math.abs(gamma) > 1e-15 * Math.sqrt(alpha * beta))) return false;
  const zeta = (beta - alpha) / (2 * gamma);
  const t = (zeta >= 0 ? 1 : -1) / (Math.abs(zeta) + Math.sqrt(1 + zeta * zeta));
  const c = 1 / Math.sqrt(1 + t * t);
  rotate(u, { m, n, p, q }, [c, c * t]);
  rotate(v, { m: n, n, p, q }, [c, c * t]);
  return true;
}

function rotate(a: Float64Array, { m, n, p, q }: Pair, [c, s]: readonly [number, number]): void {
  for (let i = 0; i < m; i++) {
    const x = a[i * n + p];
    const y = a[i * n + q];
    a[i * n + p] = c * x - s * y;
    a[i * n + q] = s * x + c * y;
  }
}

function sortedBySize(u: Float64Array, v: Float64Array, [m, n]: readonly [number, number]): SingularValues {
  const norms = Array.from({ length: n }, (_, j) => {
    let sum = 0;
    for (let i = 0; i < m; i++) sum += u[i * n + j] ** 2;
    return { j, norm: Math.sqrt(sum) };
  }).sort((x, y) => y.norm - x.norm);
  const sorted = { u: new Float64Array(m * n), s: new Float64Array(n), v: new Float64Array(n * n) };
  norms.forEach(({ j, norm }, k) => {
    sorted.s[k] = norm;
    for (let i = 0; i < m; i++) sorted.u[i * n + k] = norm === 0 ? 0 : u[i * n + j] / norm;
    for (let i = 0; i < n; i++) sorted.v[i * n + k] = v[i * n + j];
  });
  return sorted;
}
