import type { DecimalMark } from "./parse-number.js";

export type Delimiter = ";" | "\t" | "," | "blanks";

const quote = 0x22;

/** The delimiters in the order in which they are looked for: with `;` present a comma is a decimal comma. */
const marks = [";", "\t", ","] as const;

/**
 * What separates the cells of a line. A comma that is known to be the decimal mark separates only where it stands
 * beside quotes: `100,"1,5"`.
 */
export function delimiterOf(line: string, decimalMark?: DecimalMark): Delimiter {
  const outside = line.replace(/"[^"]*"/g, '""');
  const separates = (mark: string): boolean =>
    mark === "," && decimalMark === "," ? /,\s*""|""\s*,/.test(outside) : outside.includes(mark);
  return marks.find(separates) ?? "blanks";
}

/** The byte of a delimiter; 0 for blanks, of which runs count as one. */
export const delimiterByte = (delimiter: Delimiter): number => (delimiter === "blanks" ? 0 : delimiter.charCodeAt(0));

/**
 * Where the cells of one line begin and end, blanks around them cut off. Runs of blanks count as one delimiter; other
 * delimiters may enclose empty cells. A delimiter between double quotes is part of the cell.
 *
 * @param line       offsets of the line's first byte and of its end
 * @param delimiter  byte, or 0 for blanks
 * @param bounds     receives start and end of each cell, shape [2 * (longest line + 1)]
 * @returns number of cells
 */
export function cellBounds(
  bytes: Uint8Array,
  line: { readonly start: number; readonly end: number },
  { delimiter, bounds }: { readonly delimiter: number; readonly bounds: Int32Array },
): number {
  return delimiter === 0 ? blankBounds(bytes, line, bounds) : markBounds(bytes, line, { delimiter, bounds });
}

function blankBounds(
  bytes: Uint8Array,
  { start, end }: { readonly start: number; readonly end: number },
  bounds: Int32Array,
): number {
  let count = 0;
  let i = start;
  while (i < end) {
    while (i < end && (bytes[i] === 0x20 || bytes[i] === 0x09)) i++;
    if (i === end) break;
    bounds[2 * count] = i;
    i = bytes[i] === quote ? closeQuote(bytes, i, end) : i;
    while (i < end && bytes[i] !== 0x20 && bytes[i] !== 0x09) i++;
    bounds[2 * count + 1] = i;
    count += 1;
  }
  return count;
}

function markBounds(
  bytes: Uint8Array,
  { start, end }: { readonly start: number; readonly end: number },
  { delimiter, bounds }: { readonly delimiter: number; readonly bounds: Int32Array },
): number {
  let count = 0;
  let i = start;
  for (;;) {
    while (i < end && bytes[i] !== delimiter && (bytes[i] === 0x20 || bytes[i] === 0x09)) i++;
    const first = i;
    if (bytes[i] === quote) i = closeQuote(bytes, i, end);
    while (i < end && bytes[i] !== delimiter) i++;
    let last = i;
    while (last > first && (bytes[last - 1] === 0x20 || bytes[last - 1] === 0x09)) last--;
    bounds[2 * count] = first;
    bounds[2 * count + 1] = last;
    count += 1;
    if (i >= end) return count;
    i += 1; // over the delimiter
  }
}

/** Offset of the quote that closes the one at `open`; the open one itself where none does. */
function closeQuote(bytes: Uint8Array, open: number, end: number): number {
  for (let i = open + 1; i < end; i++) if (bytes[i] === quote) return i;
  return open;
}

/** Cells of a line of text, blanks around them cut off. */
export function splitCells(line: string, delimiter: Delimiter): string[] {
  const bytes = new TextEncoder().encode(line);
  const bounds = new Int32Array(2 * (bytes.length + 1));
  const whole = { start: 0, end: bytes.length };
  const count = cellBounds(bytes, whole, { delimiter: delimiterByte(delimiter), bounds });
  const decoder = new TextDecoder();
  return Array.from({ length: count }, (_, j) => decoder.decode(bytes.subarray(bounds[2 * j], bounds[2 * j + 1])));
}
