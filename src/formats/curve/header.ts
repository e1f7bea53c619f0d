import { splitCells, type TextTable } from "./split-table.js";

export const columnRoles = ["field", "magnetisation", "sigma", "ignore"] as const;
export type ColumnRole = (typeof columnRoles)[number];

export interface HeaderColumn {
  readonly name: string;
  readonly unit?: string;
  /** Known only where the name is one of the words below; nothing is guessed from "col1". */
  readonly role?: ColumnRole;
}

const roleWords: Readonly<Record<string, ColumnRole>> = {
  field: "field",
  "magnetic field": "field",
  "applied field": "field",
  h: "field",
  "mu0 h": "field",
  "mu0*h": "field",
  "\u00b50h": "field",
  "\u03bc0h": "field",
  mu0h: "field",
  m: "magnetisation",
  moment: "magnetisation",
  "magnetic moment": "magnetisation",
  magnetisation: "magnetisation",
  magnetization: "magnetisation",
  sigma: "sigma",
  sd: "sigma",
  "standard deviation": "sigma",
  "moment sd": "sigma",
  "m. std. err.": "sigma",
  "std. err.": "sigma",
  "std err": "sigma",
  "std. dev.": "sigma",
  "std dev": "sigma",
  stderr: "sigma",
  stddev: "sigma",
  stdev: "sigma",
  "standard error": "sigma",
  "moment std. err.": "sigma",
  "moment std err": "sigma",
  "moment err": "sigma",
  "moment error": "sigma",
  "standard uncertainty": "sigma",
};

/** Last bracket that closes the cell: `moment [emu]`, `field (kA/m)`. */
const nameWithUnit = /^(.*?)\s*[[(]\s*([^[\]()]+?)\s*[\])]$/;

function readHeaderCell(text: string): HeaderColumn {
  const word = text.replace(/^"(.*)"$/, "$1").trim();
  const match = nameWithUnit.exec(word);
  const name = (match?.[1] ?? word).trim();
  return { name, unit: match?.[2], role: roleWords[name.toLowerCase()] };
}

/** `field (Oe)  moment (emu)` between blanks: a name runs up to its unit. */
function splitBracketed(text: string): string[] {
  return [...text.matchAll(/[^[\]()]+[[(][^[\]()]+[\])]/g)].map((match) => match[0].trim());
}

function headerCells(text: string, table: TextTable): string[] {
  if (table.delimiter !== "blanks") return splitCells(text, table.delimiter).map((cell) => cell.text);
  const bracketed = splitBracketed(text);
  return bracketed.length > 0 ? bracketed : splitCells(text, "blanks").map((cell) => cell.text);
}

/**
 * What the header says about each column, or `undefined` when there is none that fits the number of columns.
 * A second header line is read as units; a commented line of names with units in brackets serves as a header too.
 */
export function readHeader(table: TextTable): readonly HeaderColumn[] | undefined {
  const width = table.rows[0].cells.length;
  const lines = table.header.map((line) => headerCells(line, table)).filter((cells) => cells.length === width);
  if (lines.length > 0) {
    const columns = lines[0].map(readHeaderCell);
    const units = lines[1]?.map((text) => text.replace(/^[[(]|[\])]$/g, "").trim());
    return columns.map((column, i) => ({ ...column, unit: column.unit ?? (units?.[i] || undefined) }));
  }
  const commented = table.comments.map((line) => headerCells(line, table).map(readHeaderCell));
  return commented.find((cells) => cells.length === width && cells.some(({ unit }) => unit !== undefined));
}
