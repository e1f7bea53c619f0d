import { FerruleError } from "../../errors.js";

const textExample = "a text table in UTF-8, e.g. lines like `46.9422  2.37261  2.12761`";

/** Line and column (from 1, columns in bytes) of a byte offset. */
function positionOf(bytes: Uint8Array, offset: number): { line: number; column: number } {
  let line = 1;
  let lineStart = 0;
  for (let i = 0; i < offset; i++) {
    if (bytes[i] === 0x0a) {
      line += 1;
      lineStart = i + 1;
    }
  }
  return { line, column: offset - lineStart + 1 };
}

const isForbiddenControl = (byte: number): boolean => byte < 0x20 && byte !== 0x09 && byte !== 0x0a && byte !== 0x0d;

/**
 * The bytes of a text table as text: UTF-8 with or without byte order mark. Nothing is repaired: a binary file read
 * as text would turn into plausible numbers somewhere.
 *
 * @throws FerruleError InvalidFile: empty, UTF-16, control bytes (a binary file), bytes that are not UTF-8
 */
export function decodeText(bytes: Uint8Array, { file }: { readonly file?: string } = {}): string {
  const refuse = (found: string, offset?: number): never => {
    const place = offset === undefined ? {} : positionOf(bytes, offset);
    throw new FerruleError("InvalidFile", { file, ...place, found, accepted: textExample });
  };
  if (bytes.length === 0) refuse("an empty file");
  if ((bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff)) {
    refuse("UTF-16 text (save the table as UTF-8)", 0);
  }
  const control = bytes.findIndex(isForbiddenControl);
  if (control >= 0) refuse(`a control byte 0x${bytes[control].toString(16).padStart(2, "0")}: a binary file`, control);
  const text = decodeUtf8(bytes);
  if (text === undefined) refuse("a byte that is not UTF-8", firstInvalidByte(bytes));
  if (text!.trim() === "") refuse("a file of blanks only");
  return text!;
}

function decodeUtf8(bytes: Uint8Array): string | undefined {
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes); // drops a byte order mark
  } catch {
    return undefined;
  }
}

/** Offset of the first byte that breaks UTF-8, by bisection over prefixes (a cut sequence at the end is not an error). */
function firstInvalidByte(bytes: Uint8Array): number {
  const isPrefixValid = (length: number): boolean => {
    try {
      new TextDecoder("utf-8", { fatal: true }).decode(bytes.subarray(0, length), { stream: true });
      return true;
    } catch {
      return false;
    }
  };
  let valid = 0;
  let invalid = bytes.length;
  while (invalid - valid > 1) {
    const middle = (valid + invalid) >> 1;
    if (isPrefixValid(middle)) valid = middle;
    else invalid = middle;
  }
  return valid;
}
