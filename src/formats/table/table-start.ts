import { FerruleError } from "../../errors.js";
import { type Delimiter, delimiterOf, splitCells } from "./cells.js";
import { countLineEnds, endOfLine, firstFilled, startOfNext, textBetween } from "./lines.js";
import type { DecimalMark } from "./parse-number.js";

/** A table up to its first row of numbers: what has to be known before columns can be chosen. */
export interface TableStart {
  readonly bytes: Uint8Array;
  readonly file?: string;
  readonly delimiter: Delimiter;
  /** The decimal mark where it is known; "either" until the first number that has one shows it. */
  readonly decimalMark: DecimalMark | "either";
  /** Header lines as they stand, outermost first; none when the file starts with numbers. */
  readonly header: readonly string[];
  /** Comment lines before the numbers without their mark. */
  readonly comments: readonly string[];
  /** Offset, line (from 1) and number of cells of the first row of numbers. */
  readonly first: { readonly offset: number; readonly line: number; readonly width: number };
}

/** No table of a few columns has longer lines: beyond this the line ends are missing, or it is no table. */
export const longestLine_bytes = 65_536;

const example = "rows of numbers such as `46.9422  2.37261  2.12761`";
const startsLikeNumber = (text: string): boolean => /^["+\-\u2212]*[.,]?\d/.test(text);

/**
 * A row of data: at least half of its filled cells start like numbers. Not "all cells are numbers": a damaged first row
 * would then pass for a header and be lost without a word.
 */
function looksLikeData(cells: readonly string[]): boolean {
  const filled = cells.filter((text) => text !== "" && text !== '""');
  const numberLike = filled.filter(startsLikeNumber).length;
  return numberLike > 0 && 2 * numberLike >= filled.length;
}

/** Offset of the line after a line `[Data]`, or 0: what stands before it is a free text block. */
function afterDataMark(bytes: Uint8Array): number {
  for (let open = bytes.indexOf(0x5b); open >= 0; open = bytes.indexOf(0x5b, open + 1)) {
    const end = endOfLine(bytes, open);
    let start = open;
    while (start > 0 && (bytes[start - 1] === 0x20 || bytes[start - 1] === 0x09)) start--;
    const isWholeLine = start === 0 || bytes[start - 1] === 0x0a || bytes[start - 1] === 0x0d;
    if (isWholeLine && end - open < 100 && /^\[data\]\s*$/i.test(textBetween(bytes, open, end))) {
      return Math.min(bytes.length, startOfNext(bytes, end));
    }
  }
  return 0;
}

export function refuseLongLine(length_bytes: number, { file, line }: { file?: string; line: number }): void {
  if (length_bytes <= longestLine_bytes) return;
  const found = `a line of ${length_bytes} bytes`;
  const accepted = `lines of at most ${longestLine_bytes} bytes, one row of numbers on each`;
  throw new FerruleError("InvalidFile", { file, line, found, accepted });
}

/**
 * Header, comments and the place of the first row of numbers. Accepts blanks, tab, comma or semicolon between cells,
 * `#` and `%` comment lines, LF, CRLF or CR, up to two header lines, and a free text block that ends with `[Data]`.
 *
 * @param bytes                UTF-8 without byte order mark, see `textBytes`
 * @param options.decimalMark  where somebody states it; else a comma is decimal only where `;` separates cells
 * @throws FerruleError InvalidFile: no row of numbers, more than two lines of words before it
 */
export function findTableStart(
  bytes: Uint8Array,
  { file, decimalMark }: { readonly file?: string; readonly decimalMark?: DecimalMark } = {},
): TableStart {
  const header: { text: string; line: number }[] = [];
  const comments: string[] = [];
  let wordLines = 0;
  let offset = afterDataMark(bytes);
  for (let line = countLineEnds(bytes, 0, offset) + 1; offset < bytes.length; line++) {
    const end = endOfLine(bytes, offset);
    const filled = firstFilled(bytes, offset, end);
    const isComment = bytes[filled] === 0x23 || bytes[filled] === 0x25;
    if (filled < end && isComment && comments.length < 1000) {
      comments.push(textBetween(bytes, offset, Math.min(end, offset + longestLine_bytes)).replace(/^\s*[#%]+\s*/, ""));
    } else if (filled < end && !isComment) {
      refuseLongLine(end - offset, { file, line });
      const text = textBetween(bytes, offset, end);
      const delimiter = delimiterOf(text, decimalMark);
      const cells = splitCells(text, delimiter);
      if (looksLikeData(cells)) {
        refuseWordLines(wordLines, header, file);
        const mark = decimalMark ?? (delimiter === ";" ? "either" : ".");
        const first = { offset, line, width: cells.length };
        return { bytes, file, delimiter, decimalMark: mark, header: header.map((each) => each.text), comments, first };
      }
      wordLines += text.trim() === "" ? 0 : 1;
      if (text.trim() !== "" && header.length < 3) header.push({ text, line });
    }
    offset = startOfNext(bytes, end);
  }
  const found = `no row of numbers${wordLines === 0 ? "" : `, only words (${wordLines} of its lines)`}`;
  throw new FerruleError("InvalidFile", { file, found, accepted: example });
}

function refuseWordLines(count: number, header: readonly { readonly line: number }[], file: string | undefined): void {
  if (count <= 2) return;
  const accepted = "at most two header lines before the numbers, or a free text block that ends with a line `[Data]`";
  throw new FerruleError("InvalidFile", { file, line: header[2].line, found: `${count} lines of words`, accepted });
}
