import { strandDiameterOf } from "./coil-resistance.js";
import type { CoilUse } from "./coil-use.js";
import { resistivityAt_Ohm_m } from "./conductors.js";
import { hottestSearched_K } from "./cooling.js";
import { skinDepth_m } from "./skin-effect.js";
import type { Coil, Winding } from "./winding.js";
import { measureWinding } from "./winding-measures.js";

/**
 * Current densities up to which windings are usually run without pause, A/m2, rms over the metal. Rules of thumb, not
 * limits: what a winding bears is a matter of its cooling.
 *
 * Source      common practice, from memory: 3 to 5 A/mm2 in air, 10 to 20 A/mm2 in water-cooled hollow conductor
 */
export const usualCurrentDensity_A_per_m2 = { air: [3e6, 5e6], water: [10e6, 20e6] } as const;

/** Densest packing of round wires in a plane, π/(2√3). */
const densestRoundFill = Math.PI / (2 * Math.sqrt(3));

interface Findings extends CoilUse {
  readonly currentDensity_A_per_m2: number;
  readonly steady_K: number | null;
}

/** Cautions that a coil's report carries, in plain words. */
export function coilAdvisories({ windings }: Coil, findings: Findings): string[] {
  return [
    ...densityAdvice(findings),
    ...temperatureAdvice(findings),
    ...windings.flatMap((winding, i) => windingAdvice(winding, findings, i)),
  ];
}

function densityAdvice({ currentDensity_A_per_m2, dutyCycle = 1, cooling = "air" }: Findings): string[] {
  // Heat goes with the square: a duty cycle counts with its root.
  const steady = (currentDensity_A_per_m2 * Math.sqrt(dutyCycle)) / 1e6;
  const [usual, most] = usualCurrentDensity_A_per_m2[cooling].map((density) => density / 1e6);
  if (steady <= usual) return [];
  const way = cooling === "air" ? "in air" : "in water-cooled hollow conductor";
  const where = steady > most ? `above the ${usual} to ${most}` : `within the ${usual} to ${most}`;
  return [
    `the current density of ${steady.toPrecision(3)} A/mm2 (rms over metal and time) is ${where} A/mm2 usual ${way} (common practice): work out the temperature`,
  ];
}

function temperatureAdvice({ steady_K, thermalResistance_K_per_W, temperature_K = 293.15 }: Findings): string[] {
  if (thermalResistance_K_per_W === undefined) return [];
  if (steady_K === null)
    return [
      `no steady temperature below ${hottestSearched_K} K: the heat outgrows what the thermal resistance lets go`,
    ];
  if (Math.abs(steady_K - temperature_K) < 5) return [];
  return [
    `the conductor settles at ${steady_K.toFixed(1)} K, the other figures are for ${temperature_K} K: ask again at that temperature`,
  ];
}

function windingAdvice(winding: Winding, use: Findings, index: number): string[] {
  const { frequency_Hz = 0, temperature_K = 293.15, ownField_T_per_A } = use;
  const name = `winding ${index + 1}`;
  const { fillFactor } = measureWinding(winding);
  const advice: string[] = [];
  if (fillFactor !== null && fillFactor > densestRoundFill && winding.turns > 1)
    advice.push(
      `${name} fills ${fillFactor.toFixed(3)} of its section with metal; round wire reaches at most ${densestRoundFill.toFixed(3)}`,
    );
  if (frequency_Hz === 0) return advice;
  const depth_m = skinDepth_m(resistivityAt_Ohm_m(winding.material, temperature_K), frequency_Hz);
  const strand_m = strandDiameterOf(winding);
  if (strand_m > depth_m)
    advice.push(
      `${name}: its ${winding.strandDiameter_m === undefined ? "wire" : "strand"} of ${(strand_m * 1e3).toPrecision(3)} mm is thicker than the skin depth of ${(depth_m * 1e3).toPrecision(3)} mm at ${frequency_Hz} Hz: litz of finer strands loses less`,
    );
  if (winding.turns > 1 && ownField_T_per_A === undefined)
    advice.push(
      `${name}: losses by the field of neighbouring turns (proximity) are not counted; the power is a lower bound`,
    );
  return advice;
}
