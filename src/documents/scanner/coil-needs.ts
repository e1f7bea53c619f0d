import {
  type Coil,
  coilInductance_H,
  coilResistance_Ohm,
  fieldAtPoint,
  fieldOfSources,
  ownField_T_per_A,
  sourcesOfCoil,
} from "../../physics/index.js";
import { type Axis, axisIndex } from "../fields/axis-field.js";
import type { CoilModel } from "./coil-field.js";
import { coilSources } from "./coil-sources.js";
import { physicalCoil } from "./physical-coil.js";

/** Resistance and inductance: measured where the document says so, else from windings and conductor; null: not known. */
export interface CoilElectrics {
  readonly resistance_Ohm: number | null;
  readonly inductance_H: number | null;
}

export function coilElectrics(
  coil: CoilModel,
  { frequency_Hz = 0 }: { readonly frequency_Hz?: number } = {},
): CoilElectrics {
  const physical = physicalCoil(coil);
  return {
    resistance_Ohm: resistanceOf_Ohm(coil, { frequency_Hz }),
    inductance_H: coil.inductance_H ?? (physical === undefined ? null : coilInductance_H(physical)),
  };
}

/** The resistance alone: quicker, where the inductance is not asked. */
export function resistanceOf_Ohm(
  coil: CoilModel,
  { frequency_Hz = 0 }: { readonly frequency_Hz?: number } = {},
): number | null {
  if (coil.resistance_Ohm !== undefined) return coil.resistance_Ohm;
  const physical = physicalCoil(coil);
  if (physical === undefined) return null;
  return alternatingResistance_Ohm(physical, { frequency_Hz, temperature_K: coil.conductor?.temperature_K });
}

/** With the losses in the field of neighbouring turns where every winding is a stack with a section; else a lower bound. */
export function alternatingResistance_Ohm(
  coil: Coil,
  { frequency_Hz, temperature_K }: { readonly frequency_Hz: number; readonly temperature_K?: number | undefined },
): number {
  const isThick = coil.windings.every(
    ({ shape }) => shape.kind === "coil-stack" && shape.outerRadius_m > shape.innerRadius_m,
  );
  if (frequency_Hz === 0 || !isThick) return coilResistance_Ohm(coil, { frequency_Hz, temperature_K });
  const ownField = ownField_T_per_A(coil, fieldOfSources(sourcesOfCoil(coil, 1)));
  return coilResistance_Ohm(coil, { frequency_Hz, temperature_K, ownField_T_per_A: ownField });
}

/** mu0*H along an axis at the scanner's origin for one ampere, T/A, sign included. */
export function fieldPerAmpere_T_per_A(coil: CoilModel, axis: Axis): number {
  return fieldAtPoint(coilSources(coil, 1), [0, 0, 0])[axisIndex(axis)];
}

/** What a field asks of a coil; null: not known. */
export interface CoilNeeds extends CoilElectrics {
  /** Peak. */
  readonly current_A: number;
  /** Mean over a period of a sine; of a steady field, at it. */
  readonly power_W: number | null;
  /** Peak at the terminals; of a coil tuned by capacitors, what the amplifier gives (R I). */
  readonly voltage_V: number | null;
  /** Peak across the winding itself, tuned or not. */
  readonly windingVoltage_V: number | null;
  /** V_rms I_rms of the winding. */
  readonly apparentPower_VA: number | null;
}

/** A sinusoidal drive of peak `amplitude_T`. */
export function driveNeeds(
  coil: CoilModel,
  {
    axis,
    amplitude_T,
    frequency_Hz,
  }: { readonly axis: Axis; readonly amplitude_T: number; readonly frequency_Hz: number },
): CoilNeeds {
  const electrics = coilElectrics(coil, { frequency_Hz });
  const current_A = amplitude_T / Math.abs(fieldPerAmpere_T_per_A(coil, axis));
  const { resistance_Ohm: r, inductance_H: l } = electrics;
  const impedance = r === null || l === null ? null : Math.hypot(r, 2 * Math.PI * frequency_Hz * l);
  return {
    ...electrics,
    current_A,
    power_W: r === null ? null : (r * current_A ** 2) / 2,
    voltage_V: coil.isResonant
      ? r === null
        ? null
        : r * current_A
      : impedance === null
        ? null
        : impedance * current_A,
    windingVoltage_V: impedance === null ? null : impedance * current_A,
    apparentPower_VA: impedance === null ? null : (impedance * current_A ** 2) / 2,
  };
}
