import { jacobiSvd, type SingularValues } from "../../numerics/index.js";
import type { Vector3 } from "../sources/source.js";

/** 3 x 3 matrices, row-major in a Float64Array(9): what the field-free region needs, and no more. */
export const identity3 = (): Float64Array => Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1);

/** M v. */
export const applied = (m: Float64Array, v: ArrayLike<number>): Vector3 => [
  m[0] * v[0] + m[1] * v[1] + m[2] * v[2],
  m[3] * v[0] + m[4] * v[1] + m[5] * v[2],
  m[6] * v[0] + m[7] * v[1] + m[8] * v[2],
];

/** A B. */
export function product(a: Float64Array, b: Float64Array): Float64Array {
  const c = new Float64Array(9);
  for (let i = 0; i < 3; i++)
    for (let j = 0; j < 3; j++) c[3 * i + j] = a[3 * i] * b[j] + a[3 * i + 1] * b[3 + j] + a[3 * i + 2] * b[6 + j];
  return c;
}

export const determinant = (m: ArrayLike<number>): number =>
  m[0] * (m[4] * m[8] - m[5] * m[7]) - m[1] * (m[3] * m[8] - m[5] * m[6]) + m[2] * (m[3] * m[7] - m[4] * m[6]);

/** Square root of the sum of squares of the elements. */
export const frobenius = (m: Float64Array): number => Math.sqrt(m.reduce((sum, value) => sum + value * value, 0));

export const decompose = (m: Float64Array): SingularValues => jacobiSvd(m, [3, 3]);

/** Column of a 3 x 3 matrix. */
export const column = (m: Float64Array, j: number): Vector3 => [m[j], m[3 + j], m[6 + j]];

/** Directions whose singular value reaches `share` of the largest; 0 for a matrix of zeros. */
export const rankOf = (s: Float64Array, share: number): number =>
  s[0] > 0 ? 1 + Number(s[1] >= share * s[0]) + Number(s[2] >= share * s[0]) : 0;

/** Pseudo-inverse on the first `rank` singular directions: V diag(1/s) U^T. */
export function pseudoInverse({ u, s, v }: SingularValues, rank: number): Float64Array {
  const inverse = new Float64Array(9);
  for (let k = 0; k < rank; k++)
    for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) inverse[3 * i + j] += (v[3 * i + k] * u[3 * j + k]) / s[k];
  return inverse;
}
