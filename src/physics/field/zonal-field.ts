import type { FieldFunction, Vector3 } from "../sources/source.js";

/**
 * Field of round, coaxial sources from the Taylor coefficients of the field on their axis (z).
 *   B_z(0, z) = sum_k b_k z^k;  off the axis, with c = z/r,
 *   B_z = sum_k b_k r^k P_k(c),   B_rho = -sum_k b_k/(k + 1) r^k sqrt(1 - c^2) P_k'(c)
 * b_0 is a uniform field, b_1 the gradient of a field-free point (-b_1/2, -b_1/2, b_1), b_3 and b_5 its first errors.
 *
 * @param coefficients  b_k, T/m^k
 * @param options.center_m  where the expansion is about; default the origin
 * Valid for   distances from the centre below that of the nearest source, if the coefficients are those of sources
 * Source      solid harmonics, textbook; derived
 * Checked by  zonal-field.test.ts (div, curl, written-out polynomials), checks/field-free (Maxwell pair)
 */
export function zonalField(
  coefficients: readonly number[],
  { center_m = [0, 0, 0] }: { center_m?: Vector3 } = {},
): FieldFunction {
  return (points_m, out = new Float64Array(points_m.length)) => {
    for (let at = 0; at < points_m.length; at += 3) {
      const [x, y, z] = [0, 1, 2].map((i) => points_m[at + i] - center_m[i]);
      const [perRadius, axial] = zonalSum(coefficients, { r2: x * x + y * y + z * z, z });
      out[at] = perRadius * x;
      out[at + 1] = perRadius * y;
      out[at + 2] = axial;
    }
    return out;
  };
}

/** [B_rho / rho, B_z]. With p_k = r^k P_k and d_k = r^(k-1) P_k': both follow Legendre's recursions, regular at r = 0. */
function zonalSum(b: readonly number[], { r2, z }: { r2: number; z: number }): [number, number] {
  let [before, value] = [0, 1];
  let [slopeBefore, slope] = [0, 0];
  let radial = 0;
  let axial = 0;
  for (let k = 0; k < b.length; k++) {
    axial += b[k] * value;
    radial -= (b[k] / (k + 1)) * slope;
    const next = ((2 * k + 1) * z * value - k * r2 * before) / (k + 1);
    // P_{k+1}' = P_{k-1}' + (2k + 1) P_k
    const nextSlope = r2 * slopeBefore + (2 * k + 1) * value;
    [before, value] = [value, next];
    [slopeBefore, slope] = [slope, nextSlope];
  }
  return [radial, axial];
}
