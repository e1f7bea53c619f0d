import { FerruleError } from "../../errors.js";
import type { MagnetisationCurve } from "../../measure/index.js";
import { planColumns } from "./columns.js";
import { decodeText } from "./decode-text.js";
import type { CurveDescriptor } from "./descriptor.js";
import { resolveFacts } from "./facts.js";
import { findOddities } from "./findings.js";
import { readHeader } from "./header.js";
import { quantityFact } from "./quantity-facts.js";
import { keepRows } from "./rows.js";
import { splitTable } from "./split-table.js";

export interface ReadCurveOptions {
  /** Name of the file for messages; no file is opened here. */
  readonly file?: string;
  /** Name of the descriptor's file, for messages about its facts. */
  readonly descriptorFile?: string;
}

/** Beyond this no laboratory magnet goes: the unit is wrong (practice: plausibility bound of 20 T). */
const largestField_T = 20;

/**
 * A magnetometer's text table to a magnetisation curve in SI, in the order of acquisition.
 *
 * Nothing is guessed: columns and units come from the header or the descriptor, what the magnetisation is divided by
 * from the descriptor (a plain moment settles it by its dimension), and a fact that nobody states is asked for by name.
 * Facts marked "assumed" in the descriptor come back in `assumptions`; what was odd in the file in `findings`.
 *
 * @param bytes       the file as it is
 * @param descriptor  what the file does not say; may be left out when the header says enough
 * @throws FerruleError InvalidFile (line, column), MissingFact (what to add), UnitMismatch, Conflict
 *
 * Source      conversions: see the units layer; conventions of M-H tables: common practice.
 * Checked by  read.test.ts (dialects, refusals), checks/curve-fit (a measured file)
 */
export function readCurve(
  bytes: Uint8Array,
  descriptor: CurveDescriptor | undefined,
  { file, descriptorFile }: ReadCurveOptions = {},
): MagnetisationCurve {
  const table = splitTable(decodeText(bytes, { file }), { file });
  const header = readHeader(table);
  const plan = planColumns(table, header, { descriptor, file });
  const columns = { field: header?.[plan.field], magnetisation: header?.[plan.magnetisation] };
  const facts = resolveFacts(columns, { descriptor, file, descriptorFile });
  const { rows, findings } = keepRows(table, plan, { file });
  const field_T = Float64Array.from(rows, (row) => row.field * facts.fieldFactor_T);
  refuseImplausibleField(field_T, rows, file);
  const magnetisation = Float64Array.from(rows, (row) => row.magnetisation * facts.magnetisationFactor);
  refuseImplausibleMagnetisation(magnetisation, facts.magnetisationUnit, { rows, file });
  return {
    name: descriptor?.name ?? file ?? "curve",
    field_T,
    magnetisation,
    sigma:
      plan.sigma === undefined ? undefined : Float64Array.from(rows, (row) => row.sigma! * facts.magnetisationFactor),
    magnetisationUnit: facts.magnetisationUnit,
    basis: facts.basis,
    branch: descriptor?.facts.branch?.value,
    temperature_K: quantityFact(descriptor, "temperature", descriptorFile ?? file),
    coreMaterial: descriptor?.facts.coreMaterial?.value,
    coreSaturation_A_per_m: quantityFact(descriptor, "coreSaturation", descriptorFile ?? file),
    assumptions: facts.assumptions,
    findings: [...plan.findings, ...findings, ...findOddities(rows)],
  };
}

function refuseImplausibleField(
  field_T: Float64Array,
  rows: readonly { readonly line: number }[],
  file?: string,
): void {
  const index = field_T.findIndex((value) => Math.abs(value) > largestField_T);
  if (index < 0) return;
  throw new FerruleError("InvalidFile", {
    file,
    line: rows[index].line,
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

function refuseImplausibleMagnetisation(
  values: Float64Array,
  unit: MagnetisationCurve["magnetisationUnit"],
  { rows, file }: { readonly rows: readonly { readonly line: number }[]; readonly file?: string },
): void {
  const index = values.findIndex((value) => Math.abs(value) > largestMagnetisation[unit]);
  if (index < 0) return;
  throw new FerruleError("InvalidFile", {
    file,
    line: rows[index].line,
    path: "facts.magnetisationUnit",
    found: `a magnetisation of ${values[index].toPrecision(4)} ${unit} after conversion`,
    accepted: `up to ${largestMagnetisation[unit]} ${unit}: check the unit of the column (emu, emu/g, A.m2/kg, kA/m ...)`,
  });
}
