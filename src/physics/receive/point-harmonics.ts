import { FerruleError } from "../../errors.js";
import { requirePositive } from "../particle/ranges.js";

/**
 * Voltage harmonics of a point of tracer at the field-free point, per mass of iron.
 *   u_n = (B_R/I) M_Fe n 2 pi f0 |c_n|,  M/Ms = sum c_n cos(n w0 t)
 *
 * @param relativeHarmonics  |c_1|, |c_2| ..: harmonics of M/Ms under the drive, [K], order n at index n - 1
 * @param options.sensitivity_T_per_A  (B_R/I) along the drive at the point
 * @param options.momentPerIron_A_m2_per_kg  saturated moment per kg Fe
 * @param options.frequency_Hz  f0 of the drive
 * @returns peak amplitudes, V/kg Fe, [K]
 *
 * Valid for   a point small against the coil; harmonics as given (with or without relaxation)
 * Source      facts N13, M22; derived. Checked by checks/receive-chain (facts N14: 3.4485 nV per ng at small drive)
 */
export function pointHarmonics_V_per_kg(
  relativeHarmonics: ArrayLike<number>,
  {
    sensitivity_T_per_A,
    momentPerIron_A_m2_per_kg,
    frequency_Hz,
  }: { sensitivity_T_per_A: number; momentPerIron_A_m2_per_kg: number; frequency_Hz: number },
): Float64Array {
  requirePositive(momentPerIron_A_m2_per_kg, "momentPerIron_A_m2_per_kg", "119");
  requirePositive(frequency_Hz, "frequency_Hz", "25e3");
  if (!Number.isFinite(sensitivity_T_per_A))
    throw new FerruleError("InvalidValue", {
      path: "sensitivity_T_per_A",
      found: String(sensitivity_T_per_A),
      accepted: "a finite sensitivity, e.g. 31.4e-6",
    });
  const scale = Math.abs(sensitivity_T_per_A) * momentPerIron_A_m2_per_kg * 2 * Math.PI * frequency_Hz;
  return Float64Array.from(relativeHarmonics, (c, i) => scale * (i + 1) * Math.abs(c));
}
