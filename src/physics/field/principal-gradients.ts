import { jacobiSvd } from "../../numerics/index.js";
import type { Vector3 } from "../sources/source.js";
import { column, frobenius } from "./three-by-three.js";

export interface PrincipalGradients {
  /** Signed, T/m, largest magnitude first. In free space they add up to zero. */
  readonly values_T_per_m: Vector3;
  /** Unit vectors, in the same order. */
  readonly directions: readonly [Vector3, Vector3, Vector3];
}

/**
 * Gradients along the axes in which the tensor is diagonal: eigenvalues and eigenvectors of its symmetric part.
 *   (G, -G/2, -G/2) is a field-free point, (G, -G, 0) a field-free line along the third direction.
 * The tensor is shifted to be positive, where singular values are eigenvalues.
 *
 * @param gradient_T_per_m  dB_i/dx_j, [9] row-major
 * Valid for   any tensor; values to about 1e-15 of the largest (a shift costs the relative accuracy of small ones)
 * Source      derived
 * Checked by  principal-gradients.test.ts (turned diagonal tensors)
 */
export function principalGradients(gradient_T_per_m: Float64Array): PrincipalGradients {
  const g = gradient_T_per_m;
  const shift = 2 * frobenius(g);
  const positive = Float64Array.from({ length: 9 }, (_, index) => {
    const [i, j] = [Math.floor(index / 3), index % 3];
    return (g[index] + g[3 * j + i]) / 2 + (i === j ? shift : 0);
  });
  const { s, v } = jacobiSvd(positive, [3, 3]);
  const order = [0, 1, 2].sort((a, b) => Math.abs(s[b] - shift) - Math.abs(s[a] - shift));
  const value = (k: number): number => s[order[k]] - shift;
  const direction = (k: number): Vector3 => column(v, order[k]);
  return {
    values_T_per_m: [value(0), value(1), value(2)],
    directions: [direction(0), direction(1), direction(2)],
  };
}
