import type { FerruleError } from "../../errors.js";
import { missingFact } from "../descriptor/facts.js";
import { columnsExample, planColumns, refuseOtherUnit } from "../table/column-plan.js";
import type { HeaderColumn } from "../table/header.js";
import type { TableStart } from "../table/table-start.js";
import type { ColumnRole } from "./column-words.js";
import type { CurveDescriptor } from "./descriptor.js";

export const descriptorName = "the curve's descriptor";

/** Which column of a curve's table carries what; indices from 0. */
export interface CurveColumns {
  readonly field: number;
  readonly magnetisation: number;
  readonly sigma?: number;
  readonly findings: readonly string[];
}

const example = (width: number): string => columnsExample(["field", "magnetisation", "sigma"], width);

/** Field, magnetisation and standard deviation, from the descriptor or else from the header's words. */
export function planCurveColumns(
  table: TableStart,
  header: readonly HeaderColumn<ColumnRole>[] | undefined,
  { descriptor, file }: { readonly descriptor?: CurveDescriptor; readonly file?: string },
): CurveColumns {
  const ask = (found: string, shown: string): FerruleError =>
    missingFact("columns", found, { file, descriptorName, example: shown });
  const said = descriptor?.columns;
  const { index, findings } = planColumns(table, { header, said, file, example, ask });
  const { field, magnetisation, sigma } = index;
  if (field === undefined || magnetisation === undefined) {
    const names = said?.join(", ") ?? header?.map(({ name }) => `"${name}"`).join(", ");
    const lacking = field === undefined ? "field" : "magnetisation";
    throw ask(`no column known to be the ${lacking} among ${names}`, example(table.first.width));
  }
  refuseOtherUnit({ sigma, value: magnetisation, of: "a magnetisation", file }, header);
  return { field, magnetisation, sigma, findings };
}
