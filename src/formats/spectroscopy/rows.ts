import { amplitudeColumn, sigmaColumn } from "../table/column-rules.js";
import { type NumberColumns, readColumns, type WantedColumn } from "../table/read-columns.js";
import { lineList } from "../table/row-findings.js";
import type { TableStart } from "../table/table-start.js";
import type { HarmonicsColumns } from "./columns.js";

/** A frequency is a harmonic when it is a whole multiple of the drive's within the digits that tables print. */
const numberTolerance = 0.01;
const largestNumber = 1e6;

const isWhole = (k: number): boolean => Number.isInteger(k) && k >= 1 && k <= largestNumber;

/** Number of the harmonic at a frequency, or NaN between harmonics. */
function numberAt(frequency_Hz: number, drive_Hz: number): number {
  const ratio = frequency_Hz / drive_Hz;
  const k = Math.round(ratio);
  return isWhole(k) && Math.abs(ratio - k) <= numberTolerance ? k : Number.NaN;
}

/** The column that says which harmonic a row is. */
function numberColumn({ number }: HarmonicsColumns, scale: FrequencyScale): WantedColumn {
  const { role, index } = number;
  if (role === "harmonic") {
    const accepted = "whole numbers from 1 (the drive's own frequency)";
    return { index, rule: { isFit: isWhole, refusal: (k) => ({ found: `harmonic ${k}`, accepted }) } };
  }
  const { factor_Hz, drive_Hz } = scale;
  return {
    index,
    rule: {
      isFit: (frequency) => !Number.isNaN(numberAt(frequency * factor_Hz, drive_Hz)),
      refusal: (frequency) => ({
        found: `${frequency * factor_Hz} Hz, ${((frequency * factor_Hz) / drive_Hz).toPrecision(5)} times the drive's ${drive_Hz} Hz`,
        accepted: "whole multiples of the drive's frequency, from 1",
      }),
    },
  };
}

interface FrequencyScale {
  readonly factor_Hz: number;
  readonly drive_Hz: number;
}

/** The rows in the file's own scale: complex values cartesian, amplitudes alone as real parts. */
export interface HarmonicRows {
  readonly harmonic: Int32Array;
  /** Interleaved re, im, shape [2n]. */
  readonly values: Float64Array;
  readonly sigma?: Float64Array;
  readonly line: Int32Array;
  readonly rows: NumberColumns;
}

/** @param options.radPerUnit  of the phase column, where there is one */
export function readHarmonicRows(
  table: TableStart,
  plan: HarmonicsColumns,
  { scale, radPerUnit }: { readonly scale: FrequencyScale; readonly radPerUnit: number },
): HarmonicRows {
  const value = plan.form === "cartesian" ? { index: plan.first } : amplitudeColumn(plan.first);
  const second = plan.second === undefined ? [] : [{ index: plan.second }];
  const sigma = plan.sigma === undefined ? [] : [sigmaColumn(plan.sigma)];
  const rows = readColumns(table, [numberColumn(plan, scale), value, ...second, ...sigma]);
  const { columns, line } = rows;
  const toNumber = (x: number) => (plan.number.role === "harmonic" ? x : numberAt(x * scale.factor_Hz, scale.drive_Hz));
  const values = new Float64Array(2 * line.length);
  for (let i = 0; i < line.length; i++) {
    const [x, y] = [columns[1][i], plan.form === "amplitude" ? 0 : columns[2][i]];
    values[2 * i] = plan.form === "polar" ? x * Math.cos(y * radPerUnit) : x;
    values[2 * i + 1] = plan.form === "polar" ? x * Math.sin(y * radPerUnit) : y;
  }
  return {
    harmonic: Int32Array.from(columns[0], toNumber),
    values,
    sigma: plan.sigma === undefined ? undefined : columns[columns.length - 1],
    line,
    rows,
  };
}

/** Without a static field a sample answers in odd harmonics only: even ones are left out, and told. */
export function keepHarmonics(all: HarmonicRows, biasField_T: number): HarmonicRows & { findings: readonly string[] } {
  const isKept = (i: number): boolean => biasField_T !== 0 || all.harmonic[i] % 2 === 1;
  const kept = Array.from(all.harmonic.keys()).filter(isKept);
  const left = Array.from(all.line).filter((_, i) => !isKept(i));
  const line = Int32Array.from(kept, (i) => all.line[i]);
  const harmonic = Int32Array.from(kept, (i) => all.harmonic[i]);
  return {
    rows: all.rows,
    line,
    harmonic,
    values: Float64Array.from({ length: 2 * kept.length }, (_, j) => all.values[2 * kept[j >> 1] + (j & 1)]),
    sigma: all.sigma === undefined ? undefined : Float64Array.from(kept, (i) => all.sigma?.[i] ?? Number.NaN),
    findings: [
      ...(left.length === 0 ? [] : [`even harmonics left out (there is no static field): ${lineList(left)}`]),
      ...orderFindings(harmonic, line),
    ],
  };
}

function orderFindings(harmonic: Int32Array, line: Int32Array): string[] {
  const seen = new Set<number>();
  const [again, back]: [number[], number[]] = [[], []];
  for (const [i, k] of harmonic.entries()) {
    if (seen.has(k)) again.push(line[i]);
    else if (i > 0 && k < harmonic[i - 1]) back.push(line[i]);
    seen.add(k);
  }
  return [
    ...(again.length === 0 ? [] : [`a harmonic that stands further up already: ${lineList(again)}`]),
    ...(back.length === 0 ? [] : [`harmonics not in rising order: ${lineList(back)}`]),
  ];
}
