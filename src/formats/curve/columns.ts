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
}

const example = '"columns": ["field", "magnetisation", "sigma"]';

function rolesOf(
  table: TextTable,
  header: readonly HeaderColumn[] | undefined,
  descriptor: CurveDescriptor | undefined,
  file?: string,
) {
  const width = table.rows[0].cells.length;
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
    throw missingFact("columns", `no column known to be the ${lacking} among ${names}`, { file, example });
  }
  return { field, magnetisation, sigma: indexOf("sigma", roles, file) };
}
