import { FerruleError } from "../../errors.js";
import { requirePositive } from "../particle/ranges.js";

export interface ConductorMaterial {
  readonly name: string;
  /** At `referenceTemperature_K`. */
  readonly resistivity_Ohm_m: number;
  readonly temperatureCoefficient_per_K: number;
  readonly referenceTemperature_K: number;
  readonly density_kg_per_m3: number;
}

/**
 * Two metals that coils are wound from. Give an object of your own where the wire's data are known.
 *
 * Source      copper: annealed standard of IEC 60028, 1.7241e-8 Ohm m, 3.93e-3 1/K, 8890 kg/m3; aluminium: hard drawn
 *             wire of IEC 60889, 2.8264e-8 Ohm m, 4.03e-3 1/K, 2703 kg/m3; all at 20 degrees Celsius; from memory.
 *             Alloys and drawn copper are some per cent above.
 */
export const conductorMaterials = {
  copper: {
    name: "copper",
    resistivity_Ohm_m: 1.7241e-8,
    temperatureCoefficient_per_K: 3.93e-3,
    referenceTemperature_K: 293.15,
    density_kg_per_m3: 8890,
  },
  aluminium: {
    name: "aluminium",
    resistivity_Ohm_m: 2.8264e-8,
    temperatureCoefficient_per_K: 4.03e-3,
    referenceTemperature_K: 293.15,
    density_kg_per_m3: 2703,
  },
} as const satisfies Record<string, ConductorMaterial>;

/**
 * Resistivity of a metal near room temperature, Ohm m.
 *   ρ(T) = ρ0·(1 + α·(T − T0))
 *
 * Valid for   about 220 to 470 K: the straight line. Refused where the line gives no positive value; cold coils need
 *             a resistivity of their own.
 * Source      definition of α; values see `conductorMaterials`
 * Checked by  conductors.test.ts (worked values)
 */
export function resistivityAt_Ohm_m(material: ConductorMaterial, temperature_K: number): number {
  requireMaterial(material);
  requirePositive(temperature_K, "temperature_K", "300");
  const { resistivity_Ohm_m, temperatureCoefficient_per_K, referenceTemperature_K } = material;
  const resistivity = resistivity_Ohm_m * (1 + temperatureCoefficient_per_K * (temperature_K - referenceTemperature_K));
  if (resistivity > 0) return resistivity;
  throw new FerruleError("InvalidValue", {
    path: "temperature_K",
    found: `${temperature_K} K, where the straight line of ${material.name} gives ${resistivity} Ohm m`,
    accepted: "a temperature near that of the resistivity given, e.g. 300",
  });
}

export function requireMaterial(material: ConductorMaterial): ConductorMaterial {
  requirePositive(material.resistivity_Ohm_m, "material.resistivity_Ohm_m", "1.7241e-8");
  requirePositive(material.referenceTemperature_K, "material.referenceTemperature_K", "293.15");
  requirePositive(material.density_kg_per_m3, "material.density_kg_per_m3", "8890");
  const alpha = material.temperatureCoefficient_per_K;
  if (Number.isFinite(alpha) && alpha >= 0) return material;
  throw new FerruleError("InvalidValue", {
    path: "material.temperatureCoefficient_per_K",
    found: String(alpha),
    accepted: "a finite number, 0 or above, e.g. 3.93e-3",
  });
}
