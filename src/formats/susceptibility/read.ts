import type { AcSusceptibility, CurveAssumption } from "../../measure/index.js";
import { peakPer } from "../descriptor/amplitude.js";
import { decimalMarkOf } from "../descriptor/fact-schema.js";
import { askFor, assumptionsOf, requiredFact, unitOf } from "../descriptor/facts.js";
import { quantityFact } from "../descriptor/quantity-facts.js";
import { columnFactor, frequencyUnit, phaseUnit } from "../descriptor/unit-facts.js";
import { amplitudeColumn, frequencyColumn, sigmaColumn } from "../table/column-rules.js";
import { type HeaderColumn, readHeader } from "../table/header.js";
import { type NumberColumns, readColumns } from "../table/read-columns.js";
import { rowFindings } from "../table/row-findings.js";
import { findTableStart, type TableStart } from "../table/table-start.js";
import { textBytes } from "../table/text-bytes.js";
import { susceptibilityColumnWords } from "./column-words.js";
import { descriptorName, planSusceptibilityColumns, type SusceptibilityColumns } from "./columns.js";
import type { SusceptibilityDescriptor } from "./descriptor.js";
import { lossFindings, orderFindings } from "./findings.js";
import { susceptibilityQuantityFacts } from "./quantity-facts.js";
import { type SusceptibilityFactSource, susceptibilityBasis, susceptibilityScale } from "./unit.js";

export interface ReadSusceptibilityOptions {
  /** Name of the file for messages; no file is opened here. */
  readonly file?: string;
  /** Name of the descriptor's file, for messages about its facts. */
  readonly descriptorFile?: string;
}

/**
 * A table of AC susceptibilities to chi = chi' - i chi'' in SI, in the order of the file.
 * Nothing is guessed: SI or cgs, what the values are divided by and how the field's amplitude was written come from the
 * descriptor, and what nobody states is asked for by name. The sign of chi'' is asked for where the table has it
 * negative on the whole, which no passive sample can have.
 *
 * @throws FerruleError InvalidFile (line, column), MissingFact (what to add), UnitMismatch, Conflict
 *
 * Checked by  read.test.ts
 */
export function readSusceptibility(
  bytes: Uint8Array,
  descriptor: SusceptibilityDescriptor,
  { file, descriptorFile }: ReadSusceptibilityOptions = {},
): AcSusceptibility {
  const table = findTableStart(textBytes(bytes, { file }), { file, decimalMark: decimalMarkOf(descriptor) });
  const header = readHeader(table, susceptibilityColumnWords);
  const plan = planSusceptibilityColumns(table, header, { descriptor, file });
  const source: SusceptibilityFactSource = { facts: descriptor.facts, file, descriptorFile, descriptorName };
  const unit = unitOf("susceptibilityUnit", header?.[plan.first], { source, of: "susceptibility", value: "m3/kg" });
  const scale = susceptibilityScale(unit, source);
  const basis = susceptibilityBasis(scale.unit, source);
  const fieldAmplitude_T = amplitudeOf(source);
  const perUnit = unitsOfColumns(plan, header, source);
  const rows = readRows(table, plan);
  const values = inSI(rows, plan, { ...perUnit, factor: scale.factor });
  const imaginary = withLossPositive(values.imaginary, source);
  const { line } = rows;
  return {
    name: descriptor.name,
    ...values,
    imaginary,
    unit: scale.unit,
    basis,
    fieldAmplitude_T,
    temperature_K: quantity("temperature", source),
    viscosity_Pa_s: quantity("viscosity", source),
    coreMaterial: descriptor.facts.coreMaterial?.value,
    coreSaturation_A_per_m: quantity("coreSaturation", source),
    assumptions: [...assumptionsOf(descriptor.facts), ...sigmaAssumption(plan)],
    findings: [
      ...plan.findings,
      ...rowFindings(rows),
      ...orderFindings(values.frequency_Hz, line),
      ...lossFindings(imaginary, line),
    ],
  };
}

function quantity(fact: keyof typeof susceptibilityQuantityFacts, { facts, ...files }: SusceptibilityFactSource) {
  return quantityFact(facts, fact, {
    rule: susceptibilityQuantityFacts[fact],
    file: files.descriptorFile ?? files.file,
  });
}

/** Peak of mu0*H. */
function amplitudeOf(source: SusceptibilityFactSource): number {
  const amplitude_T = quantity("fieldAmplitude", source);
  if (amplitude_T === undefined) throw askFor("fieldAmplitude", "no field amplitude", { source, value: "0.1 mT" });
  const found = "a field amplitude that may be peak, peak-to-peak or rms";
  const said = source.facts.fieldAmplitudeMeaning;
  return amplitude_T * peakPer[requiredFact(said, "fieldAmplitudeMeaning", { source, found, value: "peak" })];
}

function unitsOfColumns(
  { form, frequency, second }: SusceptibilityColumns,
  header: readonly HeaderColumn[] | undefined,
  source: SusceptibilityFactSource,
) {
  const factor_Hz = columnFactor("frequencyUnit", header?.[frequency], { source, rule: frequencyUnit });
  if (form === "cartesian") return { factor_Hz, radPerUnit: 1 };
  return { factor_Hz, radPerUnit: columnFactor("phaseUnit", header?.[second], { source, rule: phaseUnit }) };
}

/** Columns: frequency, the two that make the value, then the standard deviations that there are. */
function readRows(table: TableStart, plan: SusceptibilityColumns): NumberColumns {
  const first = plan.form === "polar" ? amplitudeColumn(plan.first) : { index: plan.first };
  const sigmas = [plan.sigmaReal, plan.sigmaImaginary].flatMap((at) => (at === undefined ? [] : [sigmaColumn(at)]));
  return readColumns(table, [frequencyColumn(plan.frequency), first, { index: plan.second }, ...sigmas]);
}

function inSI(
  { columns, line }: NumberColumns,
  { form, sigmaReal, sigmaImaginary }: SusceptibilityColumns,
  { factor, factor_Hz, radPerUnit }: { factor: number; factor_Hz: number; radPerUnit: number },
) {
  const [frequency, first, second] = columns;
  const [real, imaginary] = [new Float64Array(line.length), new Float64Array(line.length)];
  for (let i = 0; i < line.length; i++) {
    const isPolar = form === "polar";
    real[i] = factor * (isPolar ? first[i] * Math.cos(second[i] * radPerUnit) : first[i]);
    imaginary[i] = factor * (isPolar ? first[i] * Math.sin(second[i] * radPerUnit) : second[i]);
  }
  const scaled = (values: Float64Array) => values.map((sd) => factor * sd);
  return {
    frequency_Hz: frequency.map((f) => f * factor_Hz),
    real,
    imaginary,
    sigmaReal: sigmaReal === undefined ? undefined : scaled(columns[3]),
    sigmaImaginary: sigmaImaginary === undefined ? undefined : scaled(columns[columns.length - 1]),
  };
}

/** chi'' with the sign that makes losses positive. Where the table has losses negative, somebody must say so. */
function withLossPositive(imaginary: Float64Array, source: SusceptibilityFactSource): Float64Array {
  const said = source.facts.lossSign?.value;
  if (said === "negative") return imaginary.map((value) => -value + 0);
  if (said === undefined && imaginary.reduce((sum, value) => sum + value, 0) < 0) {
    const found = "an imaginary part that is negative on the whole, as in chi' + i chi''";
    throw askFor("lossSign", found, { source, value: "negative" });
  }
  return imaginary;
}

/** One standard deviation beside both parts is taken for each. */
function sigmaAssumption({ sigmaReal, sigmaImaginary }: SusceptibilityColumns): CurveAssumption[] {
  if (sigmaReal === undefined || sigmaReal !== sigmaImaginary) return [];
  const note = "one standard deviation in the file was taken for the real and for the imaginary part";
  return [{ fact: "sigma", value: "same for both parts", note }];
}
