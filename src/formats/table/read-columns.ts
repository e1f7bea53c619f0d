import { FerruleError } from "../../errors.js";
import { cellBounds, delimiterByte } from "./cells.js";
import { fastNumber } from "./fast-number.js";
import { columnAt, countLineEnds, endOfLine, firstFilled, startOfNext, textBetween } from "./lines.js";
import { type DecimalMark, parseCell } from "./parse-number.js";
import { refuseUneven, refuseWords } from "./row-refusals.js";
import { longestLine_bytes, refuseLongLine, type TableStart } from "./table-start.js";

/** A column to read, and what its values must be. */
export interface WantedColumn {
  readonly index: number;
  readonly rule?: {
    readonly isFit: (value: number) => boolean;
    readonly refusal: (value: number) => { readonly found: string; readonly accepted: string };
  };
}

/** The rows whose wanted cells all carry numbers, in file order, column by column. */
export interface NumberColumns {
  /** One array per wanted column, shape [n]. */
  readonly columns: readonly Float64Array[];
  /** Line in the file of each row, from 1, shape [n]. */
  readonly line: Int32Array;
  /** Lines left out because a wanted cell is blank or NaN. */
  readonly dropped: readonly number[];
  /** The last line, where it has no line end and its last number is shorter than in every row above. */
  readonly cutLine?: number;
}

/** Where the reader stands: one object for the whole table, none per row or cell. */
interface Cursor {
  offset: number;
  line: number;
  end: number;
  cells: number;
  mark: DecimalMark | "either";
}

/**
 * The numbers of the wanted columns, straight from the bytes into arrays. Blank and comment lines are passed over;
 * cells of other columns are not looked at. A row longer or shorter than the first is not repaired.
 *
 * @throws FerruleError InvalidFile at the first cell that is no number, with line and column
 *
 * Checked by  read.test.ts of each format; test/large-curve.test.ts (1e6 rows: time and memory)
 */
export function readColumns(table: TableStart, wanted: readonly WantedColumn[]): NumberColumns {
  const { bytes, file, first } = table;
  const delimiter = delimiterByte(table.delimiter);
  const bounds = new Int32Array(2 * (longestLine_bytes + 1));
  const capacity = countLineEnds(bytes, first.offset) + 1;
  const columns = wanted.map(() => new Float64Array(capacity));
  const lines = new Int32Array(capacity);
  const dropped: number[] = [];
  const cursor: Cursor = { offset: first.offset, line: first.line, end: 0, cells: 0, mark: table.decimalMark };
  let [rows, shortest, isShorter] = [0, Number.POSITIVE_INFINITY, false];
  for (; cursor.offset < bytes.length; cursor.line++, cursor.offset = startOfNext(bytes, cursor.end)) {
    cursor.end = endOfLine(bytes, cursor.offset);
    const filled = firstFilled(bytes, cursor.offset, cursor.end);
    if (filled === cursor.end || bytes[filled] === 0x23 || bytes[filled] === 0x25) continue;
    if (cursor.end - cursor.offset > longestLine_bytes) {
      refuseLongLine(cursor.end - cursor.offset, { file, line: cursor.line });
    }
    cursor.cells = cellBounds(bytes, { start: cursor.offset, end: cursor.end }, { delimiter, bounds });
    const isComplete = readRow(table, wanted, { cursor, bounds, columns, row: rows });
    if (cursor.cells !== first.width) refuseUneven(table, cursor, bounds);
    const length = bounds[2 * first.width - 1] - bounds[2 * first.width - 2];
    isShorter = length < shortest && rows >= 3;
    shortest = Math.min(shortest, length);
    if (isComplete) lines[rows++] = cursor.line;
    else dropped.push(cursor.line);
  }
  if (rows === 0) throw noRow(table);
  return {
    columns: columns.map((column) => (rows === capacity ? column : column.slice(0, rows))),
    line: rows === capacity ? lines : lines.slice(0, rows),
    dropped,
    ...(isShorter && endsOpen(bytes) && { cutLine: cursor.line - 1 }),
  };
}

/** The row at the cursor, its cells, and where its numbers go. */
interface RowPlace {
  readonly cursor: Cursor;
  readonly bounds: Int32Array;
  readonly columns: readonly Float64Array[];
  readonly row: number;
}

/** While no mark has been seen, numbers with one take the slow way, which remembers it. */
const markByte = { ".": 0x2e, ",": 0x2c, either: 0 } as const;

/** One row into the columns; false where a wanted cell says nothing. */
function readRow(table: TableStart, wanted: readonly WantedColumn[], into: RowPlace): boolean {
  const { cursor, bounds, columns, row } = into;
  let isComplete = true;
  for (let j = 0; j < wanted.length; j++) {
    const { index } = wanted[j];
    if (index >= cursor.cells) return false; // refused as uneven by the caller
    const start = bounds[2 * index];
    const end = bounds[2 * index + 1];
    const fast = fastNumber(table.bytes, start, { end, mark: markByte[cursor.mark] });
    const number = Number.isNaN(fast) ? slowNumber(table, cursor, { start, end }) : fast;
    if (number === undefined) isComplete = false;
    else columns[j][row] = number;
  }
  if (isComplete) refuseWrong(table, wanted, into);
  return isComplete;
}

/** What a cell says that is no plain number; `undefined` for a blank or NaN. The first decimal mark is remembered. */
function slowNumber(table: TableStart, cursor: Cursor, cell: { start: number; end: number }): number | undefined {
  const text = textBetween(table.bytes, cell.start, cell.end);
  const parsed = parseCell(text, { mark: cursor.mark, delimiter: table.delimiter });
  if (parsed.kind === "words") throw refuseWords(table, cursor, { text, start: cell.start, reason: parsed.reason });
  if (parsed.kind === "missing") return undefined;
  if (cursor.mark === "either" && parsed.mark !== undefined) cursor.mark = parsed.mark;
  return parsed.value;
}

/** Refuses a complete row with a number that its column cannot have. */
function refuseWrong({ bytes, file }: TableStart, wanted: readonly WantedColumn[], at: RowPlace): void {
  for (let j = 0; j < wanted.length; j++) {
    const { index, rule } = wanted[j];
    const value = at.columns[j][at.row];
    if (rule === undefined || rule.isFit(value)) continue;
    const column = columnAt(bytes, at.cursor.offset, at.bounds[2 * index]);
    throw new FerruleError("InvalidFile", { file, line: at.cursor.line, column, ...rule.refusal(value) });
  }
}

const endsOpen = (bytes: Uint8Array): boolean => bytes[bytes.length - 1] !== 0x0a && bytes[bytes.length - 1] !== 0x0d;

function noRow({ file, first }: TableStart): FerruleError {
  const accepted = "at least one row with a number in every column used, e.g. `46.9422  2.37261  2.12761`";
  return new FerruleError("InvalidFile", { file, line: first.line, found: "no complete row", accepted });
}
