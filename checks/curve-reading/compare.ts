import { readFileSync } from "node:fs";
import { parseMeasurementDescriptor, readMeasurement } from "../../src/formats/index.js";
import { readColumns } from "../../src/formats/table/read-columns.js";
import { findTableStart } from "../../src/formats/table/table-start.js";
import { textBytes } from "../../src/formats/table/text-bytes.js";

/** Shared by the gate and the meter: files as a laboratory might write them, read back and compared. */
export interface SpectrumCase {
  readonly name: string;
  readonly columns: readonly string[];
  readonly facts: Readonly<Record<string, string>>;
  readonly text: string;
  readonly harmonic: readonly number[];
  readonly moment: readonly number[];
}

export const truth: {
  readonly cases: readonly SpectrumCase[];
  readonly numbers: readonly (readonly [text: string, value: string])[];
} = JSON.parse(readFileSync(new URL("./truth.json", import.meta.url), "utf8"));

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);
const stated = (value: string) => ({ value, status: "stated", note: "invented" });

/** A spectrum read by its descriptor, through JSON text as a user's files are. */
export function readCase({ name, columns, facts, text }: SpectrumCase) {
  const said = Object.fromEntries(Object.entries(facts).map(([fact, value]) => [fact, stated(value)]));
  const descriptor = { schema: "urn:ferrule:harmonics-descriptor:1", name, columns, facts: said };
  const measured = readMeasurement(bytesOf(text), parseMeasurementDescriptor(JSON.stringify(descriptor)));
  if (measured.kind !== "harmonics") throw new Error(`${name} was read as a ${measured.kind}`);
  return measured.spectrum;
}

/** Largest difference of a moment's real or imaginary part, over the fundamental's size. */
export function spectrumError(sample: SpectrumCase): number {
  const { moment } = readCase(sample);
  const size = Math.hypot(sample.moment[0], sample.moment[1]);
  return sample.moment.reduce((worst, value, j) => Math.max(worst, Math.abs(value - moment[j]) / size), 0);
}

/** Value of a hexadecimal float as Python prints it: `-0x1.8p+3`. Exact: 53 bits at most, scaled by powers of two. */
function fromHex(text: string): number {
  const match = /^(-?)0x([01])\.([\da-f]*)p([+-]\d+)$/.exec(text);
  if (match === null) throw new Error(`no hexadecimal float: ${text}`);
  const [, sign, whole, fraction, exponent] = match;
  const integer = Number.parseInt(whole + fraction, 16);
  const power = Number(exponent) - 4 * fraction.length;
  const half = Math.trunc(power / 2); // in two steps: 2^power alone may be out of range
  return (sign === "-" ? -1 : 1) * (integer * 2 ** half) * 2 ** (power - half);
}

/** The numbers that the table reader makes of texts, one a row, beside those of Python. */
export function readNumbers(): { readonly text: string; readonly ours: number; readonly python: number }[] {
  const texts = truth.numbers.map(([text]) => text);
  const table = findTableStart(textBytes(bytesOf(`${texts.join("\n")}\n`)));
  const [column] = readColumns(table, [{ index: 0 }]).columns;
  return truth.numbers.map(([text, value], i) => ({ text, ours: column[i], python: fromHex(value) }));
}
