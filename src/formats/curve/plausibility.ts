import { FerruleError } from "../../errors.js";
import type { MagnetisationCurve } from "../../measure/index.js";

/** Beyond this no laboratory magnet goes: the unit is wrong (practice: plausibility bound of 20 T). */
const largestField_T = 20;

interface Rows {
  readonly line: Int32Array;
  readonly file?: string;
}

export function refuseImplausibleField(field_T: Float64Array, { line, file }: Rows): void {
  const index = field_T.findIndex((value) => Math.abs(value) > largestField_T);
  if (index < 0) return;
  throw new FerruleError("InvalidFile", {
    file,
    line: line[index],
    path: "facts.fieldUnit",
    found: `a field of ${field_T[index].toPrecision(4)} T (mu0*H) after conversion`,
    accepted: `fields up to ${largestField_T} T: check the unit of the field column (Oe, A/m, mT ...)`,
  });
}

/**
 * Beyond these no sample goes: bulk iron has 218 A.m2/kg and 1.7 MA/m (textbook values, from memory); a magnetometer's
 * sample of 10 A.m2 would weigh kilograms.
 */
const largestMagnetisation = { "A.m2": 10, "A.m2/kg": 1e3, "A/m": 5e6 } as const;

export function refuseImplausibleMagnetisation(
  values: Float64Array,
  unit: MagnetisationCurve["magnetisationUnit"],
  { line, file }: Rows,
): void {
  const index = values.findIndex((value) => Math.abs(value) > largestMagnetisation[unit]);
  if (index < 0) return;
  throw new FerruleError("InvalidFile", {
    file,
    line: line[index],
    path: "facts.magnetisationUnit",
    found: `a magnetisation of ${values[index].toPrecision(4)} ${unit} after conversion`,
    accepted: `up to ${largestMagnetisation[unit]} ${unit}: check the unit of the column (emu, emu/g, A.m2/kg, kA/m ...)`,
  });
}
