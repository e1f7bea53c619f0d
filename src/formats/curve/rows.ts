import { FerruleError } from "../../errors.js";
import type { ColumnPlan } from "./columns.js";
import type { TableRow, TextTable } from "./split-table.js";

/** One row that can be used, still in the units of the file. */
export interface CurveRow {
  readonly line: number;
  readonly field: number;
  readonly magnetisation: number;
  readonly sigma?: number;
}

const numberAt = (row: TableRow, index: number): number | undefined => {
  const cell = row.cells[index]?.cell;
  return cell?.kind === "number" ? cell.value : undefined;
};

/** A row shorter or longer than the first is not repaired: between blanks nobody can tell which cell is gone. */
function refuseUneven(row: TableRow, { width, isLast, file }: { width: number; isLast: boolean; file?: string }): void {
  const filled =
    row.cells.length > width && row.cells.slice(width).every(({ text }) => text === "") ? width : row.cells.length;
  if (filled === width) return;
  const cut = isLast && filled < width ? ": the file looks truncated" : "";
  throw new FerruleError("InvalidFile", {
    file,
    line: row.line,
    column: row.cells.at(-1)!.column,
    found: `${filled} cells where the first row has ${width}${cut}`,
    accepted: `${width} cells in every row; write NaN where there is no value`,
  });
}

function refuseSigma(sigma: number, row: TableRow, { column, file }: { column: number; file?: string }): void {
  if (sigma > 0) return;
  throw new FerruleError("InvalidFile", {
    file,
    line: row.line,
    column: row.cells[column].column,
    found: `a standard deviation of ${sigma}`,
    accepted: 'standard deviations above 0; call the column "ignore" in the descriptor if it was never filled in',
  });
}

/**
 * The rows that carry field and magnetisation (and standard deviation, where the table has that column), in file order.
 * Rows with a blank or NaN among these are left out and reported by line.
 */
export function keepRows(
  table: TextTable,
  plan: ColumnPlan,
  { file }: { readonly file?: string } = {},
): { readonly rows: readonly CurveRow[]; readonly findings: readonly string[] } {
  const width = table.rows[0].cells.length;
  const dropped: number[] = [];
  const rows: CurveRow[] = [];
  for (const [index, row] of table.rows.entries()) {
    refuseUneven(row, { width, isLast: index === table.rows.length - 1, file });
    const field = numberAt(row, plan.field);
    const magnetisation = numberAt(row, plan.magnetisation);
    const sigma = plan.sigma === undefined ? undefined : numberAt(row, plan.sigma);
    if (field === undefined || magnetisation === undefined || (plan.sigma !== undefined && sigma === undefined)) {
      dropped.push(row.line);
      continue;
    }
    if (sigma !== undefined) refuseSigma(sigma, row, { column: plan.sigma!, file });
    rows.push({ line: row.line, field, magnetisation, sigma });
  }
  if (rows.length === 0) {
    const accepted = "at least one row with field and magnetisation, e.g. `46.9422  2.37261  2.12761`";
    throw new FerruleError("InvalidFile", { file, line: table.rows[0].line, found: "no complete row", accepted });
  }
  return { rows, findings: dropped.length === 0 ? [] : [`left out for blank or NaN cells: ${lineList(dropped)}`] };
}

/** "lines 3, 4, 9" - the first ten. */
export function lineList(lines: readonly number[]): string {
  const shown = lines.slice(0, 10).join(", ");
  const more = lines.length > 10 ? ` and ${lines.length - 10} more` : "";
  return `${lines.length === 1 ? "line" : "lines"} ${shown}${more}`;
}
