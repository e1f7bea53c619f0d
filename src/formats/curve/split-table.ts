import { FerruleError } from "../../errors.js";
import { type Cell, parseCell } from "./parse-number.js";

export type Delimiter = ";" | "\t" | "," | "blanks";

export interface TableRow {
  /** Line in the file, from 1. */
  readonly line: number;
  readonly cells: readonly { readonly text: string; readonly column: number; readonly cell: Cell }[];
}

export interface TextTable {
  readonly delimiter: Delimiter;
  /** Header lines as they stand, outermost first; none when the file starts with numbers. */
  readonly header: readonly string[];
  /** Comment lines without their mark. */
  readonly comments: readonly string[];
  readonly rows: readonly TableRow[];
}

interface Line {
  readonly line: number;
  readonly text: string;
}

const isComment = (text: string): boolean => /^\s*[#%]/.test(text);
const isDataMark = (text: string): boolean => /^\s*\[data\]\s*$/i.test(text);

/** `;` before tab before comma before blanks: with `;` present a comma is a decimal comma. */
function delimiterOf(text: string): Delimiter {
  for (const mark of [";", "\t", ","] as const) if (text.includes(mark)) return mark;
  return "blanks";
}

/** Cells with their column (from 1). Runs of blanks count as one delimiter; other delimiters may enclose empty cells. */
export function splitCells(text: string, delimiter: Delimiter): { text: string; column: number }[] {
  if (delimiter === "blanks") {
    return [...text.matchAll(/\S+/g)].map((match) => ({ text: match[0], column: match.index + 1 }));
  }
  let start = 0;
  return text.split(delimiter).map((part) => {
    const column = start + (part.length - part.trimStart().length) + 1;
    start += part.length + 1;
    return { text: part.trim(), column };
  });
}

function readRow({ line, text }: Line, delimiter: Delimiter): TableRow {
  const decimalComma = delimiter === ";";
  const cells = splitCells(text, delimiter).map((cell) => ({ ...cell, cell: parseCell(cell.text, { decimalComma }) }));
  return { line, cells };
}

const startsLikeNumber = (text: string): boolean => /^["+\-\u2212]*[.,]?\d/.test(text);

/**
 * A row of data: at least half of its filled cells start like numbers. Not "all cells are numbers": a damaged first row
 * would then pass for a header and be lost without a word.
 */
function looksLikeData({ cells }: TableRow): boolean {
  const filled = cells.filter(({ text }) => text !== "");
  const numberLike = filled.filter(({ text }) => startsLikeNumber(text)).length;
  return numberLike > 0 && 2 * numberLike >= filled.length;
}

/**
 * A text table cut into header, comments and rows of cells; order and line numbers kept.
 * Accepts blanks, tab, comma or semicolon between cells, `#` and `%` comment lines, CRLF, up to two header lines,
 * and a free text block that ends with a line `[Data]`.
 *
 * @throws FerruleError InvalidFile at the first cell that is no number, with line and column
 */
export function splitTable(text: string, { file }: { readonly file?: string } = {}): TextTable {
  const all = text.split(/\r\n|\r|\n/).map((line, index): Line => ({ line: index + 1, text: line }));
  const mark = all.findIndex((line) => isDataMark(line.text));
  const lines = all.slice(mark + 1).filter((line) => line.text.trim() !== "");
  const comments = lines.filter((line) => isComment(line.text)).map((line) => line.text.replace(/^\s*[#%]+\s*/, ""));
  const body = lines.filter((line) => !isComment(line.text));
  const first = body.findIndex((line) => looksLikeData(readRow(line, delimiterOf(line.text))));
  const example = "rows of numbers such as `46.9422  2.37261  2.12761`";
  if (first < 0) throw new FerruleError("InvalidFile", { file, found: "no row of numbers", accepted: example });
  if (first > 2) {
    const accepted = "at most two header lines before the numbers, or a free text block that ends with a line `[Data]`";
    throw new FerruleError("InvalidFile", { file, line: body[2].line, found: `${first} lines of words`, accepted });
  }
  const delimiter = delimiterOf(body[first].text);
  const rows = body.slice(first).map((line) => readRow(line, delimiter));
  for (const row of rows) refuseWords(row, file);
  return { delimiter, header: body.slice(0, first).map((line) => line.text), comments, rows };
}

function refuseWords(row: TableRow, file?: string): void {
  for (const { text, column, cell } of row.cells) {
    if (cell.kind !== "words") continue;
    const accepted = "a number with a decimal point, e.g. 1234.5 or 1.2345e3; a blank cell or NaN where there is none";
    throw new FerruleError("InvalidFile", {
      file,
      line: row.line,
      column,
      found: `"${text}" (${cell.reason})`,
      accepted,
    });
  }
}
