import { FerruleError } from "../../errors.js";
import { missingFact } from "../descriptor/facts.js";
import { columnsExample, planColumns, refuseOtherUnit } from "../table/column-plan.js";
import type { HeaderColumn } from "../table/header.js";
import type { TableStart } from "../table/table-start.js";
import type { HarmonicsRole } from "./column-words.js";
import type { HarmonicsDescriptor } from "./descriptor.js";

export const descriptorName = "the spectrum's descriptor";

/** How a table writes a complex number, and in which columns. */
export interface HarmonicsColumns {
  readonly number: { readonly role: "harmonic" | "frequency"; readonly index: number };
  /** Real and imaginary part, amplitude and phase, or the amplitude alone. */
  readonly form: "cartesian" | "polar" | "amplitude";
  readonly first: number;
  readonly second?: number;
  readonly sigma?: number;
  readonly findings: readonly string[];
}

const example = (width: number): string => {
  const usual = ["harmonic", "amplitude", "phase", "sigma"];
  return columnsExample(width === 2 ? usual.slice(0, 2) : usual, width);
};

/** What each column of a table of harmonics is, from the descriptor or else from the header's words. */
export function planHarmonicsColumns(
  table: TableStart,
  header: readonly HeaderColumn<HarmonicsRole>[] | undefined,
  { descriptor, file }: { readonly descriptor: HarmonicsDescriptor; readonly file?: string },
): HarmonicsColumns {
  const ask = (found: string, shown: string): FerruleError =>
    missingFact("columns", found, { file, descriptorName, example: shown });
  const said = descriptor.columns;
  const { index, findings } = planColumns(table, { header, said, file, example, ask });
  const names = said?.join(", ") ?? header?.map(({ name }) => `"${name}"`).join(", ");
  const lacking = (what: string) => ask(`no column known to be the ${what} among ${names}`, example(table.first.width));
  const { harmonic, frequency, amplitude, phase, real, imaginary, sigma } = index;
  if (harmonic === undefined && frequency === undefined) throw lacking("harmonic (or its frequency)");
  if (amplitude !== undefined && (real !== undefined || imaginary !== undefined)) throw saidTwice(file);
  if (amplitude === undefined && real === undefined) throw lacking("amplitude (or real part)");
  if (real !== undefined && imaginary === undefined) throw lacking("imaginary part");
  const first = real ?? amplitude ?? 0;
  for (const other of [sigma, imaginary]) refuseOtherUnit({ sigma: other, value: first, of: "values", file }, header);
  const unused = harmonic !== undefined && frequency !== undefined;
  return {
    number:
      harmonic === undefined ? { role: "frequency", index: frequency ?? 0 } : { role: "harmonic", index: harmonic },
    form: real !== undefined ? "cartesian" : phase !== undefined ? "polar" : "amplitude",
    first,
    second: real !== undefined ? imaginary : phase,
    sigma,
    findings: [...findings, ...(unused ? ["the frequency column is not used: the harmonics are numbered"] : [])],
  };
}

const saidTwice = (file: string | undefined) =>
  new FerruleError("InvalidFile", {
    file,
    path: "columns",
    found: "the values twice: as amplitude and as real and imaginary part",
    accepted: 'one of the two; call the other columns "ignore" in the descriptor',
  });
