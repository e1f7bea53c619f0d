import { findRoot } from "../../numerics/index.js";
import { requirePositive } from "../particle/ranges.js";

/** Water at 25 degrees Celsius, J/(m3 K): 997 kg/m3 times 4180 J/(kg K); from memory. */
const waterHeatCapacity_J_per_m3_K = 997 * 4180;

/** Where the search for a steady state ends: no insulation of a winding lasts there. */
export const hottestSearched_K = 773.15;

/**
 * Flow of water that carries a heat away at a given rise, m3/s.
 *   flow = P/(ρ·c·ΔT);  1 kW at 10 K takes 1.44 L/min
 *
 * Source      energy balance; properties of water from memory
 * Checked by  cooling.test.ts
 */
export function coolantFlow_m3_per_s(heat_W: number, rise_K: number): number {
  return heat_W / (waterHeatCapacity_J_per_m3_K * requirePositive(rise_K, "coolantRise_K", "10"));
}

/**
 * Temperature at which a conductor gives off what it takes up, K.
 *   T = T_ambient + R_th·P(T)
 *
 * @param heat_W  heat at a conductor temperature
 * @returns null when no thermal resistance is given, or when the heat outgrows the loss below 500 degrees Celsius
 *
 * Valid for   one temperature for the whole winding; with P = P0·(1 + α·(T − T0)) the state exists for R_th·P0·α < 1
 * Source      energy balance
 * Checked by  cooling.test.ts (closed form for a resistance linear in T)
 */
export function steadyTemperature_K(
  heat_W: (temperature_K: number) => number,
  {
    thermalResistance_K_per_W,
    ambient_K = 293.15,
  }: { thermalResistance_K_per_W?: number | undefined; ambient_K?: number } = {},
): number | null {
  if (thermalResistance_K_per_W === undefined) return null;
  requirePositive(thermalResistance_K_per_W, "thermalResistance_K_per_W", "0.05");
  requirePositive(ambient_K, "ambient_K", "293.15");
  const excess = (kelvin: number) => kelvin - ambient_K - thermalResistance_K_per_W * heat_W(kelvin);
  if (ambient_K >= hottestSearched_K || excess(hottestSearched_K) < 0) return null;
  return findRoot(excess, [ambient_K, hottestSearched_K], { absolute: 1e-9 }).root;
}
