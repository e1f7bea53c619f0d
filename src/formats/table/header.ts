import { splitCells } from "./cells.js";
import type { TableStart } from "./table-start.js";

/** What the header says about one column. */
export interface HeaderColumn<Role extends string = string> {
  readonly name: string;
  readonly unit?: string;
  /** Known only where the name is one of the format's words; nothing is guessed from "col1". */
  readonly role?: Role;
}

export type RoleWords<Role extends string> = Readonly<Record<string, Role>>;

/** Last bracket that closes the cell: `moment [emu]`, `field (kA/m)`; full-width brackets too. */
const nameWithUnit = /^(.*?)\s*[[(\uff08]\s*([^[\]()\uff08\uff09]+?)\s*[\])\uff09]$/;

function readHeaderCell<Role extends string>(text: string, words: RoleWords<Role>): HeaderColumn<Role> {
  const word = text.replace(/^"(.*)"$/, "$1").trim();
  const match = nameWithUnit.exec(word);
  const name = (match?.[1] ?? word).trim();
  const key = name.toLowerCase();
  return { name, unit: match?.[2], role: Object.hasOwn(words, key) ? words[key] : undefined };
}

/** `field (Oe)  moment (emu)` between blanks: a name runs up to its unit. */
function splitBracketed(text: string): string[] {
  const pieces = text.split(/(?<=[\])])/).map((piece) => piece.trim());
  return pieces.filter((piece) => /^[^[\]()]+[[(][^[\]()]+[\])]$/.test(piece));
}

/** Names of several words between blanks can be told apart by their units, or by wider gaps: what fits the width. */
function headerCells(text: string, { delimiter, first }: TableStart): string[] {
  if (delimiter !== "blanks") return splitCells(text, delimiter);
  const byGaps = text.trim().split(/ {2,}|\t+ */);
  const ways = [splitBracketed(text), byGaps, splitCells(text, "blanks")];
  return ways.find((cells) => cells.length === first.width) ?? [];
}

/**
 * What the header says about each column, or `undefined` when there is none that fits the number of columns.
 * A second header line is read as units; a commented line of names with units in brackets serves as a header too.
 *
 * @param words  names of columns in lower case, and what they mean
 */
export function readHeader<Role extends string>(
  table: TableStart,
  words: RoleWords<Role>,
): readonly HeaderColumn<Role>[] | undefined {
  const { width } = table.first;
  const lines = table.header.map((line) => headerCells(line, table)).filter((cells) => cells.length === width);
  if (lines.length > 0) {
    const columns = lines[0].map((text) => readHeaderCell(text, words));
    const units = lines[1]?.map((text) =>
      text
        .replace(/^"(.*)"$/, "$1")
        .replace(/^[[(]|[\])]$/g, "")
        .trim(),
    );
    return columns.map((column, i) => ({ ...column, unit: column.unit ?? (units?.[i] || undefined) }));
  }
  const commented = table.comments.map((line) => headerCells(line, table).map((text) => readHeaderCell(text, words)));
  return commented.find((cells) => cells.length === width && cells.some(({ unit }) => unit !== undefined));
}
