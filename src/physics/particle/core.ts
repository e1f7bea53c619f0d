import { boltzmannConstant_J_per_K, ironMassFraction } from "../../units/index.js";
import { requirePositive } from "./ranges.js";

/** Density of the magnetic oxide and the part of its mass that is iron. */
export interface CoreMaterial {
  readonly density_kg_per_m3: number;
  readonly ironMassFraction: number;
}

/**
 * The two iron oxides of the trade.
 *
 * Source      densities: review table, BMC Materials, doi 10.1186/s42833-019-0002-6, table 1; read.
 *             iron fractions: standard atomic weights; from memory, fractions derived.
 */
export const coreMaterials = {
  magnetite: { density_kg_per_m3: 5180, ironMassFraction: ironMassFraction.magnetite },
  maghemite: { density_kg_per_m3: 4870, ironMassFraction: ironMassFraction.maghemite },
} as const satisfies Record<string, CoreMaterial>;

/** Volume of a sphere, m3: pi d^3 / 6. */
export function coreVolume_m3(diameter_m: number): number {
  return (Math.PI * diameter_m ** 3) / 6;
}

/**
 * Moment of a single-domain core.
 *   m = Ms pi d^3 / 6
 *
 * @returns A.m2
 * Valid for   single-domain cores; d is the *magnetic* core diameter, without dead layer or coating.
 * Source      standard; from memory.
 * Checked by  checks/handbook
 */
export function coreMoment_A_m2(diameter_m: number, saturation_A_per_m: number): number {
  return saturation_A_per_m * coreVolume_m3(diameter_m);
}

/**
 * How fast xi grows with the applied field for one core, 1/T.
 *   xi / (mu0H) = m / (kB T)
 *
 * Source      definition of xi; Checked by checks/handbook (0.880945 per mT at 25 nm, 446 kA/m, 300 K).
 */
export function xiPerTesla(diameter_m: number, saturation_A_per_m: number, temperature_K: number): number {
  return coreMoment_A_m2(diameter_m, saturation_A_per_m) / (boltzmannConstant_J_per_K * temperature_K);
}

/**
 * Mass of iron (Fe, not oxide) in one core.
 *   m_Fe = density w_Fe pi d^3 / 6
 *
 * @returns kg Fe
 * Source      definition; densities and fractions as in `coreMaterials`. Checked by checks/handbook.
 */
export function ironPerCore_kg(diameter_m: number, { density_kg_per_m3, ironMassFraction: w }: CoreMaterial): number {
  return density_kg_per_m3 * w * coreVolume_m3(diameter_m);
}

/**
 * Saturated moment per mass of iron: from A/m divide by the density *and* by the iron fraction.
 *   M_Fe = Ms / (density w_Fe)
 *
 * @returns A.m2 per kg Fe (1.382 times the value per kg of magnetite)
 * Valid for   any size distribution: numerator and denominator both go with the magnetic volume.
 * Source      derived. Checked by checks/handbook.
 */
export function momentPerIron_A_m2_per_kg(
  saturation_A_per_m: number,
  { density_kg_per_m3, ironMassFraction: w }: CoreMaterial,
): number {
  requirePositive(density_kg_per_m3, "material.density_kg_per_m3", "5180");
  requirePositive(w, "material.ironMassFraction", "0.7236");
  return saturation_A_per_m / (density_kg_per_m3 * w);
}
