import type { Vector3 } from "../sources/source.js";
import { applied, decompose, pseudoInverse, rankOf } from "./three-by-three.js";

/**
 * First-order move of a field-free point when a field is added: G d + dB = 0.
 *   d = -G^{-1} dB;  the remainder is of second order in dB (curvature of the field, gradient of dB)
 *
 * @param gradient_T_per_m  dB_i/dx_j at the point, [9]
 * @param added_T  the added field at the point, e.g. 1 % of one coil's own field
 * @param options.weakShare  along directions whose gradient is below this part of the largest nothing is said to move:
 *                           there a line answers with a residual instead
 * Valid for   moves short against the distance over which the gradient changes
 * Source      derived
 * Checked by  checks/field-free (one coil of a pair raised by 1 %; the remainder falls with the square)
 */
export function fieldFreeShift_m(
  gradient_T_per_m: Float64Array,
  added_T: Vector3,
  { weakShare = 1e-6 }: { weakShare?: number } = {},
): Vector3 {
  const singular = decompose(gradient_T_per_m);
  const [x, y, z] = applied(pseudoInverse(singular, rankOf(singular.s, weakShare)), added_T);
  return [0 - x, 0 - y, 0 - z];
}
