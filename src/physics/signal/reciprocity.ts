import { FerruleError } from "../../errors.js";
import type { Formula } from "../../units/index.js";

/** Sense of a receive coil's winding against the positive axis; a field of the scanner document. */
export type Polarity = 1 | -1;

/**
 * Voltage that a changing point moment induces in a receive coil, by reciprocity.
 *   u = -p (B_R/I) . dm/dt
 *
 * @param sensitivity_T_per_A  field of the coil per unit current at the moment's place, along the moment, T/A
 *                             (with B_R/I there is no further mu0)
 * @param momentRate_A_m2_per_s  dm/dt, A.m2/s
 * @param options.polarity  +1: positive current makes the field along the positive axis
 * @returns voltage, V
 * Valid for   quasi-static fields, open-circuit coil
 * Source      Hoult & Richards, J. Magn. Reson. 24:71 (1976); from memory, derived
 * Checked by  checks/handbook (3.4485 nV for 1 ng Fe in a 20 mm loop)
 */
export function inducedVoltage_V(
  sensitivity_T_per_A: number,
  momentRate_A_m2_per_s: number,
  { polarity = 1 }: { polarity?: Polarity } = {},
): number {
  return -polarity * sensitivity_T_per_A * momentRate_A_m2_per_s;
}

export const reciprocityVoltageFormula: Formula = {
  name: "reciprocity-voltage",
  subject: "signal",
  summary: "voltage that a changing point moment induces in a receive coil",
  equation: "u = -p (B_R/I) dm/dt",
  inputs: [
    {
      name: "sensitivity",
      kind: "receiveSensitivity",
      summary: "field of the coil per unit current at the moment's place, along the moment",
      example: "31.4159 uT/A",
    },
    {
      name: "moment-rate",
      kind: "momentRate",
      summary: "rate of change of the moment (peak in, peak out)",
      example: "1.09771e-4 A.m2/s",
    },
    {
      name: "polarity",
      kind: "dimensionless",
      summary: "1 or -1: sense of the winding against the positive axis",
      example: "1",
      default: "1",
      minimum: -1,
      maximum: 1,
    },
  ],
  outputs: [
    { name: "voltage", kind: "voltage", unit: "nV", summary: "induced voltage, sign included" },
    { name: "magnitude", kind: "voltage", unit: "nV", summary: "its magnitude" },
  ],
  validity: "quasi-static fields, open-circuit coil, a moment small against the coil",
  source: { text: "Hoult & Richards, J. Magn. Reson. 24:71 (1976)", status: "from memory" },
  compute: (inputs) => {
    const voltage_V = inducedVoltage_V(inputs.sensitivity, inputs["moment-rate"], {
      polarity: asPolarity(inputs.polarity),
    });
    return { voltage: voltage_V, magnitude: Math.abs(voltage_V) };
  },
};

function asPolarity(value: number): Polarity {
  if (value === 1 || value === -1) return value;
  throw new FerruleError("InvalidValue", { path: "polarity", found: String(value), accepted: "1 or -1" });
}
