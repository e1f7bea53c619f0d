const lineFeed = 0x0a;
const carriageReturn = 0x0d;
const space = 0x20;
const tab = 0x09;

export const isBlank = (byte: number): boolean => byte === space || byte === tab;

/** Offset of the line end (LF, CR or the end of the bytes) at or after an offset. */
export function endOfLine(bytes: Uint8Array, from: number): number {
  let i = from;
  while (i < bytes.length && bytes[i] !== lineFeed && bytes[i] !== carriageReturn) i++;
  return i;
}

/** Offset of the line after the one that ends at `end`: CRLF counts as one line end. */
export function startOfNext(bytes: Uint8Array, end: number): number {
  return bytes[end] === carriageReturn && bytes[end + 1] === lineFeed ? end + 2 : end + 1;
}

/** Offset of the first byte of a line that is neither blank nor tab, or `end`. */
export function firstFilled(bytes: Uint8Array, start: number, end: number): number {
  let i = start;
  while (i < end && isBlank(bytes[i])) i++;
  return i;
}

/** Line ends from an offset on: no more rows than these and one can follow. */
export function countLineEnds(bytes: Uint8Array, from: number, to: number = bytes.length): number {
  let count = 0;
  for (let i = from; i < to; i++) {
    if (bytes[i] === lineFeed || (bytes[i] === carriageReturn && bytes[i + 1] !== lineFeed)) count++;
  }
  return count;
}

/** Keeps nothing between calls; making one costs more than decoding a cell. */
const decoder = new TextDecoder();

export function textBetween(bytes: Uint8Array, start: number, end: number): string {
  return decoder.decode(bytes.subarray(start, end));
}

/** Column, from 1 and in characters, of a byte of the line that starts at `lineStart`. */
export function columnAt(bytes: Uint8Array, lineStart: number, offset: number): number {
  return textBetween(bytes, lineStart, offset).length + 1;
}
