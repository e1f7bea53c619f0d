import { FerruleError } from "../../errors.js";
import { missingFact } from "../descriptor/facts.js";
import { columnsExample, planColumns, refuseOtherUnit } from "../table/column-plan.js";
import type { HeaderColumn } from "../table/header.js";
import type { TableStart } from "../table/table-start.js";
import type { SusceptibilityRole } from "./column-words.js";
import type { SusceptibilityDescriptor } from "./descriptor.js";

export const descriptorName = "the susceptibility's descriptor";

export interface SusceptibilityColumns {
  readonly frequency: number;
  readonly form: "cartesian" | "polar";
  readonly first: number;
  readonly second: number;
  readonly sigmaReal?: number;
  readonly sigmaImaginary?: number;
  readonly findings: readonly string[];
}

const example = (width: number): string => columnsExample(["frequency", "real", "imaginary"], width);

/** What each column of a table of susceptibilities is, from the descriptor or else from the header's words. */
export function planSusceptibilityColumns(
  table: TableStart,
  header: readonly HeaderColumn<SusceptibilityRole>[] | undefined,
  { descriptor, file }: { readonly descriptor: SusceptibilityDescriptor; readonly file?: string },
): SusceptibilityColumns {
  const ask = (found: string, shown: string): FerruleError =>
    missingFact("columns", found, { file, descriptorName, example: shown });
  const said = descriptor.columns;
  const { index, findings } = planColumns(table, { header, said, file, example, ask });
  const names = said?.join(", ") ?? header?.map(({ name }) => `"${name}"`).join(", ");
  const lacking = (what: string) => ask(`no column known to be the ${what} among ${names}`, example(table.first.width));
  const { frequency, real, imaginary, amplitude, phase, sigma } = index;
  if (frequency === undefined) throw lacking("frequency");
  if (real !== undefined && amplitude !== undefined) throw saidTwice("values", file);
  const first = real ?? amplitude;
  if (first === undefined) throw lacking("real part (or amplitude)");
  const second = real === undefined ? phase : imaginary;
  if (second === undefined) throw lacking(real === undefined ? "phase" : "imaginary part");
  const [sigmaReal, sigmaImaginary] = [index["sigma-real"], index["sigma-imaginary"]];
  if (sigma !== undefined && (sigmaReal ?? sigmaImaginary) !== undefined) throw saidTwice("standard deviations", file);
  const form = real === undefined ? "polar" : "cartesian";
  for (const other of [sigma, sigmaReal, sigmaImaginary, form === "cartesian" ? second : undefined])
    refuseOtherUnit({ sigma: other, value: first, of: "values", file }, header);
  return {
    frequency,
    form,
    first,
    second,
    sigmaReal: sigma ?? sigmaReal,
    sigmaImaginary: sigma ?? sigmaImaginary,
    findings,
  };
}

const saidTwice = (what: string, file: string | undefined) =>
  new FerruleError("InvalidFile", {
    file,
    path: "columns",
    found: `the ${what} twice, in two forms`,
    accepted: 'one of the two; call the other columns "ignore" in the descriptor',
  });
