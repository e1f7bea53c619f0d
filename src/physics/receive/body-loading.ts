import { requireBetween, requirePositive } from "../particle/ranges.js";

/** A conducting sample in the coil's field, taken as uniform over it. */
export type ConductingSample =
  | { readonly kind: "cylinder"; readonly radius_m: number; readonly length_m: number } // its axis along the field
  | { readonly kind: "sphere"; readonly radius_m: number };

/** Resistance that a sample adds to a receive coil, at one frequency; it grows as the frequency squared. */
export interface BodyLoading {
  readonly resistance_Ohm: number;
  readonly frequency_Hz: number;
  readonly temperature_K: number;
}

/**
 * Resistance by which eddy currents in a sample load the coil.
 * With b = B/I uniform, the field around the axis is E = w b I r / 2, and P = int sigma E^2 / 2 dV = R I^2 / 2, so
 *   R = sigma w^2 b^2 / 4 int r^2 dV:  cylinder along the field  pi sigma w^2 b^2 l a^4 / 8
 *                                      sphere                   2 pi sigma w^2 b^2 a^5 / 15
 * (equal volumes: R / (sigma w^2 b^2 V) = a^2/8 and a^2/10).
 *
 * @param sample  its radius a and length l
 * @param sensitivity_T_per_A  b, the coil's field over the sample at 1 A
 * @param options.conductivity_S_per_m  sigma; 0.36 for muscle near 25 kHz (facts W27)
 * @returns Ohm, with its frequency and temperature
 *
 * Valid for   samples thin against the skin depth (5 m at 25 kHz, 0.8 m at 1 MHz, 0.36 S/m); a field uniform over the
 *             sample: elsewhere an estimate of the order
 * Source      Hoult & Lauterbur, J. Magn. Reson. 34:425 (1979), sphere; from memory, both derived here
 * Checked by  checks/receive-chain (adaptive quadrature of sigma |A|^2 over the body)
 */
export function bodyLoading(
  sample: ConductingSample,
  sensitivity_T_per_A: number,
  {
    conductivity_S_per_m,
    frequency_Hz,
    temperature_K = 310,
  }: { conductivity_S_per_m: number; frequency_Hz: number; temperature_K?: number },
): BodyLoading {
  requireBetween(conductivity_S_per_m, [0, Number.MAX_VALUE], { path: "conductivity_S_per_m", example: "0.36" });
  requirePositive(frequency_Hz, "frequency_Hz", "25e3");
  requirePositive(temperature_K, "temperature_K", "310");
  const scale = conductivity_S_per_m * (2 * Math.PI * frequency_Hz * sensitivity_T_per_A) ** 2;
  return { resistance_Ohm: scale * shapeFactor_m5(sample), frequency_Hz, temperature_K };
}

/** (1/4) int r^2 dV, r from the axis. */
function shapeFactor_m5(sample: ConductingSample): number {
  const a = requirePositive(sample.radius_m, "sample.radius_m", "15e-3");
  if (sample.kind === "sphere") return (2 * Math.PI * a ** 5) / 15;
  return (Math.PI * requirePositive(sample.length_m, "sample.length_m", "60e-3") * a ** 4) / 8;
}
