import { FerruleError } from "../../errors.js";
import { resistivityAt_Ohm_m } from "./conductors.js";
import { skinDepth_m, skinEffect, strandEddyLoss_W } from "./skin-effect.js";
import type { Coil, Winding } from "./winding.js";
import { measureWinding, windingResistance_Ohm } from "./winding-measures.js";

export interface ResistanceOptions {
  /** 0: direct current. */
  readonly frequency_Hz?: number;
  readonly temperature_K?: number;
  /**
   * Root mean square over each winding's metal of the coil's own field across the wire, per ampere, in the order of the
   * windings: what proximity losses need. Absent: they are left out.
   */
  readonly ownField_T_per_A?: readonly number[] | undefined;
}

/**
 * Resistance of one winding to an alternating current, Ohm.
 *   R = R0·(skin effect of one strand) + 2·P_eddy/I²
 *
 * Valid for   see `skinEffect` and `strandEddyLoss_W`; without the own field a lower bound for a winding of many turns
 * Checked by  coil-report.test.ts, checks/coil-engineering (both parts)
 */
export function alternatingResistance_Ohm(
  winding: Winding,
  {
    frequency_Hz = 0,
    temperature_K = 293.15,
    ownField_T_per_A,
  }: Omit<ResistanceOptions, "ownField_T_per_A"> & { readonly ownField_T_per_A?: number | undefined } = {},
): number {
  const direct = windingResistance_Ohm(winding, temperature_K);
  if (frequency_Hz === 0) return direct;
  const resistivity_Ohm_m = resistivityAt_Ohm_m(winding.material, temperature_K);
  const strandDiameter_m = strandDiameterOf(winding);
  const { resistanceRatio } = skinEffect(strandDiameter_m / 2, skinDepth_m(resistivity_Ohm_m, frequency_Hz));
  if (ownField_T_per_A === undefined) return direct * resistanceRatio;
  const perSquareAmpere = strandEddyLoss_W({
    strandDiameter_m,
    frequency_Hz,
    resistivity_Ohm_m,
    meanSquareField_T2: ownField_T_per_A ** 2,
    metalVolume_m3: measureWinding(winding).metalVolume_m3,
  });
  return direct * resistanceRatio + 2 * perSquareAmpere;
}

/** Of all windings in series, Ohm. */
export function coilResistance_Ohm({ windings }: Coil, options: ResistanceOptions = {}): number {
  const { ownField_T_per_A, ...rest } = options;
  if (ownField_T_per_A !== undefined && ownField_T_per_A.length !== windings.length)
    throw new FerruleError("ShapeMismatch", {
      path: "ownField_T_per_A",
      found: `${ownField_T_per_A.length} fields for ${windings.length} windings`,
      accepted: "one for each winding",
    });
  return windings.reduce(
    (sum, winding, i) => sum + alternatingResistance_Ohm(winding, { ...rest, ownField_T_per_A: ownField_T_per_A?.[i] }),
    0,
  );
}

/** Of the litz strand, or of the solid round wire with the turn's metal. */
export function strandDiameterOf(winding: Winding): number {
  return winding.strandDiameter_m ?? 2 * Math.sqrt(measureWinding(winding).metalArea_m2 / Math.PI);
}
