import { FerruleError } from "../../errors.js";
import type { HeaderColumn } from "./header.js";
import type { TableStart } from "./table-start.js";

/** Which column carries what; indices from 0. */
export interface ColumnPlan<Role extends string> {
  readonly index: { readonly [role in Role]?: number };
  /** Columns that nobody named and that are therefore not used, in words. */
  readonly findings: readonly string[];
}

export interface ColumnPlanOptions<Role extends string> {
  readonly header: readonly HeaderColumn<Role>[] | undefined;
  /** Names of the columns as the descriptor says them. */
  readonly said: readonly Role[] | undefined;
  readonly file?: string;
  /** `"columns": [...]` with as many names as the table has columns. */
  readonly example: (width: number) => string;
  /** The error that asks for the columns. */
  readonly ask: (found: string, example: string) => FerruleError;
}

const ignored = "ignore";

/**
 * Which column is what, from the descriptor or else from the header's words. Both may speak, but not differently.
 *
 * @throws FerruleError InvalidFile (two columns of a kind, a wrong count), Conflict, and what `ask` makes
 */
export function planColumns<Role extends string>(
  table: TableStart,
  { header, said, file, example, ask }: ColumnPlanOptions<Role>,
): ColumnPlan<Role> {
  const { width, line } = table.first;
  if (said !== undefined && said.length !== width) {
    const found = `${said.length} columns described, but ${width} in the file's first row of numbers`;
    const accepted = `one name per column ("ignore" for those not wanted), e.g. ${example(width)}`;
    throw new FerruleError("InvalidFile", { file, line, path: "columns", found, accepted });
  }
  if (said === undefined && header === undefined) {
    const without = table.header.length === 0 ? "without a header that names them" : "under a header that does not fit";
    throw ask(`${width} columns ${without}`, example(width));
  }
  const roles = Array.from({ length: width }, (_, i) => said?.[i] ?? header?.[i].role);
  refuseContradiction(said, header, file);
  return { index: onePerRole(roles, file), findings: unusedColumns(roles, header) };
}

/** The one column of each role; two of a kind would leave the choice to us. */
function onePerRole<Role extends string>(roles: readonly (Role | undefined)[], file?: string) {
  const index: { [role in Role]?: number } = {};
  for (const [i, role] of roles.entries()) {
    if (role === undefined || role === ignored) continue;
    if (index[role] === undefined) {
      index[role] = i;
      continue;
    }
    const same = roles.flatMap((each, at) => (each === role ? [at + 1] : []));
    throw new FerruleError("InvalidFile", {
      file,
      path: "columns",
      found: `${same.length} columns called ${role} (columns ${same.slice(0, 10).join(", ")})`,
      accepted: `one ${role} column; call the others "ignore" in the descriptor`,
    });
  }
  return index;
}

function refuseContradiction<Role extends string>(
  said: readonly Role[] | undefined,
  header: readonly HeaderColumn<Role>[] | undefined,
  file?: string,
): void {
  for (const [i, role] of (said ?? []).entries()) {
    const column = header?.[i];
    if (column?.role === undefined || role === ignored || column.role === role) continue;
    throw new FerruleError("Conflict", {
      file,
      path: `columns[${i}]`,
      found: `"${role}" in the descriptor but "${column.name}" in the file's header`,
      accepted: "the order of the columns in the file: correct the descriptor or the header",
    });
  }
}

/** What nobody called "ignore" must not be left out without a word. */
function unusedColumns<Role extends string>(
  roles: readonly (Role | undefined)[],
  header?: readonly HeaderColumn<Role>[],
): string[] {
  return roles.flatMap((role, i) =>
    role === undefined
      ? [`column ${i + 1} ("${header?.[i].name ?? ""}") is not used: its name says nothing to us`]
      : [],
  );
}

/** A standard deviation in another unit than its values would be converted by theirs. */
export function refuseOtherUnit(
  { sigma, value, of, file }: { sigma?: number; value?: number; of: string; file?: string },
  header: readonly HeaderColumn[] | undefined,
): void {
  const own = sigma === undefined ? undefined : header?.[sigma].unit;
  const theirs = value === undefined ? undefined : header?.[value].unit;
  if (sigma === undefined || own === undefined || theirs === undefined || own === theirs) return;
  throw new FerruleError("UnitMismatch", {
    file,
    path: `column ${sigma + 1}`,
    found: `standard deviations in "${own}" beside ${of} in "${theirs}"`,
    accepted: 'one unit for both; or call the column "ignore" in the descriptor',
  });
}

/** A `columns` entry with as many names as the table has columns: the usual ones first. */
export function columnsExample(usual: readonly string[], width: number): string {
  if (width > 24) return `one name for each of the ${width} columns, "columns": ["${usual[0]}", ...]`;
  const names = [...usual, ...new Array<string>(Math.max(0, width - usual.length)).fill(ignored)];
  return `"columns": [${names
    .slice(0, Math.max(2, width))
    .map((name) => `"${name}"`)
    .join(", ")}]`;
}
