import type { MagnetisationCurve } from "../../measure/index.js";
import { decimalMarkOf } from "../descriptor/fact-schema.js";
import { quantityFact, sampleQuantityFacts } from "../descriptor/quantity-facts.js";
import { sigmaColumn } from "../table/column-rules.js";
import { readHeader } from "../table/header.js";
import { readColumns } from "../table/read-columns.js";
import { rowFindings } from "../table/row-findings.js";
import { findTableStart } from "../table/table-start.js";
import { textBytes } from "../table/text-bytes.js";
import { curveColumnWords } from "./column-words.js";
import { descriptorName, planCurveColumns } from "./columns.js";
import type { CurveDescriptor } from "./descriptor.js";
import { resolveFacts } from "./facts.js";
import { findOddities } from "./findings.js";
import { refuseImplausibleField, refuseImplausibleMagnetisation } from "./plausibility.js";

export interface ReadCurveOptions {
  /** Name of the file for messages; no file is opened here. */
  readonly file?: string;
  /** Name of the descriptor's file, for messages about its facts. */
  readonly descriptorFile?: string;
}

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
  const table = findTableStart(textBytes(bytes, { file }), { file, decimalMark: decimalMarkOf(descriptor) });
  const header = readHeader(table, curveColumnWords);
  const plan = planCurveColumns(table, header, { descriptor, file });
  const titles = { field: header?.[plan.field], magnetisation: header?.[plan.magnetisation] };
  const facts = resolveFacts(titles, { facts: descriptor?.facts, file, descriptorFile, descriptorName });
  const wanted = [{ index: plan.field }, { index: plan.magnetisation }];
  const rows = readColumns(table, plan.sigma === undefined ? wanted : [...wanted, sigmaColumn(plan.sigma)]);
  const [field, magnetisation, sigma] = rows.columns as readonly [Float64Array, Float64Array, Float64Array?];
  const oddities = findOddities({ field, magnetisation, line: rows.line }); // in the file's digits, before conversion
  const field_T = scale(field, facts.fieldFactor_T);
  refuseImplausibleField(field_T, { line: rows.line, file });
  scale(magnetisation, facts.magnetisationFactor);
  refuseImplausibleMagnetisation(magnetisation, facts.magnetisationUnit, { line: rows.line, file });
  const quantity = (fact: keyof typeof sampleQuantityFacts) =>
    quantityFact(descriptor?.facts, fact, { rule: sampleQuantityFacts[fact], file: descriptorFile ?? file });
  return {
    name: descriptor?.name ?? file ?? "curve",
    field_T,
    magnetisation,
    sigma: sigma === undefined ? undefined : scale(sigma, facts.magnetisationFactor),
    magnetisationUnit: facts.magnetisationUnit,
    basis: facts.basis,
    branch: descriptor?.facts.branch?.value,
    temperature_K: quantity("temperature"),
    coreMaterial: descriptor?.facts.coreMaterial?.value,
    coreSaturation_A_per_m: quantity("coreSaturation"),
    assumptions: facts.assumptions,
    findings: [...plan.findings, ...rowFindings(rows), ...oddities],
  };
}

/** In place: the array is ours, and large. */
function scale(values: Float64Array, factor: number): Float64Array {
  for (let i = 0; i < values.length; i++) values[i] *= factor;
  return values;
}
