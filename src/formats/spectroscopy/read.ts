import { FerruleError } from "../../errors.js";
import type { CurveAssumption, HarmonicSpectrum } from "../../measure/index.js";
import { decimalMarkOf } from "../descriptor/fact-schema.js";
import { assumptionsOf } from "../descriptor/facts.js";
import { quantityFact } from "../descriptor/quantity-facts.js";
import { columnFactor, frequencyUnit, phaseUnit } from "../descriptor/unit-facts.js";
import { readHeader } from "../table/header.js";
import { rowFindings } from "../table/row-findings.js";
import { findTableStart } from "../table/table-start.js";
import { textBytes } from "../table/text-bytes.js";
import { harmonicsColumnWords } from "./column-words.js";
import { descriptorName, type HarmonicsColumns, planHarmonicsColumns } from "./columns.js";
import type { HarmonicsDescriptor } from "./descriptor.js";
import { resolveHarmonicsFacts } from "./facts.js";
import { harmonicsQuantityFacts } from "./quantity-facts.js";
import { type HarmonicRows, keepHarmonics, readHarmonicRows } from "./rows.js";
import { momentFactor, type ToMoment, toMoments } from "./to-moment.js";
import type { HarmonicsFactSource } from "./value-unit.js";

export interface ReadHarmonicsOptions {
  /** Name of the file for messages; no file is opened here. */
  readonly file?: string;
  /** Name of the descriptor's file, for messages about its facts. */
  readonly descriptorFile?: string;
}

/**
 * A table of harmonics from particle spectroscopy to moments in SI, phases against the drive's cosine.
 * Moment rates and voltages are turned into moments. Nothing is guessed: the convention of the phases, the meaning of
 * amplitudes and the drive come from the descriptor, and what nobody states is asked for by name.
 *
 * @throws FerruleError InvalidFile (line, column), MissingFact (what to add), UnitMismatch, Conflict
 *
 * Checked by  read.test.ts, checks/curve-reading (numpy's FFT of a lagging moment in every convention)
 */
export function readHarmonics(
  bytes: Uint8Array,
  descriptor: HarmonicsDescriptor,
  { file, descriptorFile }: ReadHarmonicsOptions = {},
): HarmonicSpectrum {
  const table = findTableStart(textBytes(bytes, { file }), { file, decimalMark: decimalMarkOf(descriptor) });
  const header = readHeader(table, harmonicsColumnWords);
  const plan = planHarmonicsColumns(table, header, { descriptor, file });
  const source: HarmonicsFactSource = { facts: descriptor.facts, file, descriptorFile, descriptorName };
  const facts = resolveHarmonicsFacts(plan, header, source);
  const perUnit = (fact: string, column: number | undefined, rule: typeof frequencyUnit) =>
    columnFactor(fact, column === undefined ? undefined : header?.[column], { source, rule });
  const { role, index } = plan.number;
  const factor_Hz = role === "frequency" ? perUnit("frequencyUnit", index, frequencyUnit) : 1;
  const radPerUnit = plan.form === "polar" ? perUnit("phaseUnit", plan.second, phaseUnit) : 1;
  const scale = { factor_Hz, drive_Hz: facts.frequency_Hz };
  const rows = keepHarmonics(readHarmonicRows(table, plan, { scale, radPerUnit }), facts.biasField_T);
  if (rows.harmonic.length === 0) throw noHarmonic(file);
  const moment = momentsOf(rows, plan, facts.toMoment);
  const quantity = (fact: keyof typeof harmonicsQuantityFacts) =>
    quantityFact(descriptor.facts, fact, { rule: harmonicsQuantityFacts[fact], file: descriptorFile ?? file });
  const { viscosity, medium } = descriptor.facts;
  return {
    name: descriptor.name,
    harmonic: rows.harmonic,
    moment,
    hasPhase: plan.form !== "amplitude",
    sigma: rows.sigma?.map((sd, i) => sd * Math.hypot(...momentFactor(rows.harmonic[i], facts.toMoment))),
    unit: facts.unit,
    basis: facts.basis,
    driveAmplitude_T: facts.driveAmplitude_T,
    frequency_Hz: facts.frequency_Hz,
    biasField_T: facts.biasField_T,
    temperature_K: quantity("temperature"),
    coreMaterial: descriptor.facts.coreMaterial?.value,
    coreSaturation_A_per_m: quantity("coreSaturation"),
    medium: (viscosity ?? medium) && { viscosity_Pa_s: quantity("viscosity"), name: medium?.value },
    assumptions: [...assumptionsOf(descriptor.facts), ...sigmaAssumption(plan)],
    findings: [...plan.findings, ...rowFindings(rows.rows), ...rows.findings, ...leadFinding(rows, moment, plan)],
  };
}

function momentsOf({ harmonic, values }: HarmonicRows, { form }: HarmonicsColumns, to: ToMoment): Float64Array {
  if (form !== "amplitude") return toMoments(harmonic, values, to);
  return Float64Array.from(values, (amplitude, j) =>
    j % 2 === 0 ? amplitude * Math.hypot(...momentFactor(harmonic[j >> 1], to)) : 0,
  );
}

/** One standard deviation beside an amplitude and a phase is taken for both parts: noise without a preferred phase. */
function sigmaAssumption({ form, sigma }: HarmonicsColumns): CurveAssumption[] {
  if (form === "amplitude" || sigma === undefined) return [];
  const note = "one standard deviation in the file was taken for the real and for the imaginary part";
  return [{ fact: "sigma", value: "same for both parts", note }];
}

/**
 * A passive sample takes energy from the drive: its fundamental lags, Im m_1 <= 0, and follows, Re m_1 > 0. The other
 * way round some convention in the descriptor is wrong. Told, not refused: of a weak sample the noise decides.
 */
function leadFinding({ harmonic, line }: HarmonicRows, moment: Float64Array, { form }: HarmonicsColumns): string[] {
  const i = harmonic.indexOf(1);
  if (form === "amplitude" || i < 0 || (moment[2 * i] > 0 && moment[2 * i + 1] <= 0)) return [];
  const how = moment[2 * i] > 0 ? "leads" : "opposes";
  return [
    `the fundamental ${how} the drive, which no passive sample does ` +
      `(phaseConvention, driveWaveform or coilPolarity?): line ${line[i]}`,
  ];
}

const noHarmonic = (file: string | undefined) =>
  new FerruleError("InvalidFile", {
    file,
    found: "even harmonics only, without a static field",
    accepted: 'odd harmonics, or the static field in the fact "biasField"',
  });
