import { FerruleError } from "../../errors.js";
import { columnAt, endOfLine, firstFilled, startOfNext, textBetween } from "./lines.js";
import type { TableStart } from "./table-start.js";

/** The line at fault: offsets of its begin and end, and its number. */
export interface LineAtFault {
  readonly offset: number;
  readonly end: number;
  readonly line: number;
}

const cutHint = ": the file looks truncated";
const excerpt = (text: string): string => (text.length > 60 ? `${text.slice(0, 60)}...` : text);

/** Does nothing but blank lines and comments follow? */
function isLastRow(bytes: Uint8Array, end: number): boolean {
  for (let at = startOfNext(bytes, end); at < bytes.length; at = startOfNext(bytes, endOfLine(bytes, at))) {
    const stop = endOfLine(bytes, at);
    const filled = firstFilled(bytes, at, stop);
    if (filled < stop && bytes[filled] !== 0x23 && bytes[filled] !== 0x25) return false;
  }
  return true;
}

/**
 * Refuses a row shorter or longer than the first: between blanks nobody can tell which cell is gone. Empty cells beyond
 * the width (a delimiter at the line's end) are let pass.
 */
export function refuseUneven(
  { bytes, file, first }: TableStart,
  { cells, ...at }: LineAtFault & { readonly cells: number },
  bounds: Int32Array,
): void {
  const { width } = first;
  let filled = cells;
  while (filled > width && bounds[2 * filled - 2] === bounds[2 * filled - 1]) filled -= 1;
  if (filled === width) return;
  const cut = filled < width && isLastRow(bytes, at.end) ? cutHint : "";
  throw new FerruleError("InvalidFile", {
    file,
    line: at.line,
    column: columnAt(bytes, at.offset, bounds[2 * cells - 2]),
    found: `${cells} ${cells === 1 ? "cell" : "cells"} where the first row has ${width}${cut}`,
    accepted: `${width} cells in every row; write NaN where there is no value`,
  });
}

/** The error for a cell that is no number: a header met again, a number cut off at the end, or plain words. */
export function refuseWords(
  { bytes, file, header }: TableStart,
  at: LineAtFault,
  { text, start, reason }: { readonly text: string; readonly start: number; readonly reason: string },
): FerruleError {
  const place = { file, line: at.line, column: columnAt(bytes, at.offset, start) };
  const whole = textBetween(bytes, at.offset, at.end).trim();
  if (header.some((line) => line.trim() === whole)) {
    const accepted = "one table in a file: cut the file where the header comes again";
    return new FerruleError("InvalidFile", { ...place, found: `the header again: "${excerpt(whole)}"`, accepted });
  }
  const isCut = at.end === bytes.length && /^[+-]?([\d.,]+[eEdD][+-]?)?$/.test(text);
  return new FerruleError("InvalidFile", {
    ...place,
    found: `"${excerpt(text)}" (${reason}${isCut ? cutHint : ""})`,
    accepted:
      "a number with a decimal point, e.g. 1234.5 or 1.2345e3; a blank cell or NaN where there is none" +
      (reason.includes("decimal comma") ? '; decimal commas need "decimalMark": "comma" in the descriptor' : ""),
  });
}
