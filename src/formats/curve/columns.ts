import { FerruleError } from "../../errors.js";
import type { CurveDescriptor } from "./descriptor.js";
import { missingFact } from "./facts.js";
import type { ColumnRole, HeaderColumn } from "./header.js";
import type { TextTable } from "./split-table.js";

/** Which column carries what; indices from 0. */
export interface ColumnPlan {
  readonly field: number;
  readonly magnetisation: number;
  readonly sigma?: number;
  /** Columns that nobody named and that are therefore not used, in words. */
  readonly findings: readonly string[];
}

/** A `columns` entry with as many names as the table has columns. */
function exampleFor(width: number): string {
  const names = ["field", "magnetisation", "sigma", ...new Array<string>(Math.max(0, width - 3)).fill("ignore")];
  return `"columns": [${names
    .slice(0, Math.max(2, width))
    .map((name) => `"${name}"`)
    .join(", ")}]`;
}

function rolesOf(
  table: TextTable,
  header: readonly HeaderColumn[] | undefined,
  descriptor: CurveDescriptor | undefined,
  file?: string,
) {
  const width = table.rows[0].cells.length;
  const example = exampleFor(width);
  const said = descriptor?.columns;
  if (said !== undefined && said.length !== width) {
    const found = `${said.length} columns described, but ${width} in the file's first row of numbers`;
    const accepted = `one name per column ("ignore" for those not wanted), e.g. ${example}`;
    throw new FerruleError("InvalidFile", { file, line: table.rows[0].line, path: "columns", found, accepted });
  }
  const roles: readonly (ColumnRole | undefined)[] | undefined = said ?? header?.map((column) => column.role);
  if (roles !== undefined) return roles;
  throw missingFact("columns", `${width} columns without a header that names them`, { file, example });
}

/** The one column of a role; two of a kind would leave the choice to us. */
function indexOf(role: ColumnRole, roles: readonly (ColumnRole | undefined)[], file?: string): number | undefined {
  const found = roles.flatMap((each, index) => (each === role ? [index] : []));
  if (found.length <= 1) return found[0];
  throw new FerruleError("InvalidFile", {
    file,
    path: "columns",
    found: `${found.length} columns called ${role} (columns ${found.map((i) => i + 1).join(", ")})`,
    accepted: `one ${role} column; call the others "ignore" in the descriptor`,
  });
}

/** Which column is field, magnetisation and standard deviation, from the descriptor or else from the header's words. */
export function planColumns(
  table: TextTable,
  header: readonly HeaderColumn[] | undefined,
  { descriptor, file }: { readonly descriptor?: CurveDescriptor; readonly file?: string },
): ColumnPlan {
  const roles = rolesOf(table, header, descriptor, file);
  const field = indexOf("field", roles, file);
  const magnetisation = indexOf("magnetisation", roles, file);
  if (field === undefined || magnetisation === undefined) {
    const names = header?.map(({ name }) => `"${name}"`).join(", ") ?? roles.join(", ");
    const lacking = field === undefined ? "field" : "magnetisation";
    const example = exampleFor(roles.length);
    throw missingFact("columns", `no column known to be the ${lacking} among ${names}`, { file, example });
  }
  const sigma = indexOf("sigma", roles, file);
  refuseOtherUnit({ sigma, magnetisation }, header, file);
  return { field, magnetisation, sigma, findings: unusedColumns(roles, header) };
}

/** A standard deviation in another unit than its values would be converted by theirs. */
function refuseOtherUnit(
  { sigma, magnetisation }: { readonly sigma?: number; readonly magnetisation: number },
  header: readonly HeaderColumn[] | undefined,
  file?: string,
): void {
  const [own, theirs] = [sigma === undefined ? undefined : header?.[sigma].unit, header?.[magnetisation].unit];
  if (own === undefined || theirs === undefined || own === theirs) return;
  throw new FerruleError("UnitMismatch", {
    file,
    path: `column ${sigma! + 1}`,
    found: `standard deviations in "${own}" beside a magnetisation in "${theirs}"`,
    accepted: 'one unit for both; or call the column "ignore" in the descriptor',
  });
}

/** What nobody called "ignore" must not be left out without a word. */
function unusedColumns(roles: readonly (ColumnRole | undefined)[], header?: readonly HeaderColumn[]): string[] {
  return roles.flatMap((role, i) =>
    role === undefined
      ? [`column ${i + 1} ("${header?.[i].name ?? ""}") is not used: its name says nothing to us`]
      : [],
  );
}
