import { requireBetween, requirePositive } from "../particle/ranges.js";
import { coilAdvisories } from "./coil-advisories.js";
import { coilResistance_Ohm } from "./coil-resistance.js";
import type { CoilUse } from "./coil-use.js";
import { coolantFlow_m3_per_s, steadyTemperature_K } from "./cooling.js";
import { coilInductance_H } from "./inductance.js";
import { requireFrequency } from "./skin-effect.js";
import type { Coil } from "./winding.js";
import { measureWinding } from "./winding-measures.js";

export interface CoilReport {
  readonly directResistance_Ohm: number;
  /** At the frequency; the direct one at 0 Hz. */
  readonly resistance_Ohm: number;
  readonly inductance_H: number;
  /** At the peak current. */
  readonly storedEnergy_J: number;
  readonly currentRms_A: number;
  /** While the current is on, mean over a period. */
  readonly power_W: number;
  /** Power times duty cycle: what cooling must carry away. */
  readonly heat_W: number;
  readonly voltagePeak_V: number;
  readonly voltageRms_V: number;
  /** rms voltage times rms current; half the product of the peaks for a sine. */
  readonly apparentPower_VA: number;
  readonly reactivePower_var: number;
  /** L·dI/dt + R0·I; null when no rate was given. */
  readonly rampVoltage_V: number | null;
  readonly mass_kg: number;
  readonly conductorLength_m: number;
  /** Largest over the windings, rms over the metal. */
  readonly currentDensity_A_per_m2: number;
  /** Of cooling water; null when no rise was given. */
  readonly coolantFlow_m3_per_s: number | null;
  /** Null when no thermal resistance was given, or when no steady state exists (an advisory then says so). */
  readonly steadyTemperature_K: number | null;
  readonly advisories: readonly string[];
}

/**
 * What a coil needs: resistance, voltage, power, cooling, weight.
 *   sine of peak I:  I_rms = I/√2,  P = R·I_rms²,  V = |R + iωL|·I,  Q = ωL·I_rms²,  S = V_rms·I_rms
 *   W = L·I²/2 at the peak;  ramp: V = L·dI/dt + R0·I
 *
 * Valid for   frequencies well below the coil's own resonance (turn-to-turn capacitance not counted); the inductance is
 *             that of an even current, which falls by the field inside solid wire at high frequency
 * Source      textbooks
 * Checked by  coil-report.test.ts, checks/coil-engineering
 */
export function coilReport(coil: Coil, use: CoilUse): CoilReport {
  const { current_A, frequency_Hz = 0, temperature_K = 293.15, dutyCycle = 1, ownField_T_per_A } = use;
  requirePositive(Math.abs(current_A), "current_A", "100");
  requireFrequency(frequency_Hz);
  requireBetween(dutyCycle, [0, 1], { path: "dutyCycle", example: "0.5" });
  const inductance_H = coilInductance_H(coil);
  const directResistance_Ohm = coilResistance_Ohm(coil, { temperature_K });
  const resistanceAt = (kelvin: number) =>
    coilResistance_Ohm(coil, { frequency_Hz, temperature_K: kelvin, ownField_T_per_A });
  const resistance_Ohm = resistanceAt(temperature_K);
  const peak_A = Math.abs(current_A);
  const currentRms_A = frequency_Hz > 0 ? peak_A / Math.SQRT2 : peak_A;
  const reactance_Ohm = 2 * Math.PI * frequency_Hz * inductance_H;
  const impedance_Ohm = Math.hypot(resistance_Ohm, reactance_Ohm);
  const heat_W = dutyCycle * resistance_Ohm * currentRms_A ** 2;
  const measures = coil.windings.map(measureWinding);
  const currentDensity_A_per_m2 = Math.max(...measures.map(({ metalArea_m2 }) => currentRms_A / metalArea_m2));
  const steady_K = steadyTemperature_K((kelvin) => dutyCycle * resistanceAt(kelvin) * currentRms_A ** 2, use);
  const rate = use.currentRate_A_per_s;
  return {
    directResistance_Ohm,
    resistance_Ohm,
    inductance_H,
    storedEnergy_J: (inductance_H * peak_A ** 2) / 2,
    currentRms_A,
    power_W: resistance_Ohm * currentRms_A ** 2,
    heat_W,
    voltagePeak_V: impedance_Ohm * peak_A,
    voltageRms_V: impedance_Ohm * currentRms_A,
    apparentPower_VA: impedance_Ohm * currentRms_A ** 2,
    reactivePower_var: reactance_Ohm * currentRms_A ** 2,
    rampVoltage_V: rate === undefined ? null : inductance_H * Math.abs(rate) + directResistance_Ohm * peak_A,
    mass_kg: measures.reduce((sum, { mass_kg }) => sum + mass_kg, 0),
    conductorLength_m: measures.reduce((sum, { conductorLength_m }) => sum + conductorLength_m, 0),
    currentDensity_A_per_m2,
    coolantFlow_m3_per_s: use.coolantRise_K === undefined ? null : coolantFlow_m3_per_s(heat_W, use.coolantRise_K),
    steadyTemperature_K: steady_K,
    advisories: coilAdvisories(coil, { ...use, currentDensity_A_per_m2, steady_K }),
  };
}
