import { FerruleError } from "../../errors.js";
import { countLineEnds } from "./lines.js";
import { firstInvalidUtf8 } from "./utf8.js";

const textExample = "a text table in UTF-8, e.g. lines like `46.9422  2.37261  2.12761`";

/** Line and column (from 1, columns in bytes) of a byte offset. */
function positionOf(bytes: Uint8Array, offset: number): { line: number; column: number } {
  let lineStart = offset;
  while (lineStart > 0 && bytes[lineStart - 1] !== 0x0a && bytes[lineStart - 1] !== 0x0d) lineStart--;
  return { line: countLineEnds(bytes, 0, lineStart) + 1, column: offset - lineStart + 1 };
}

function firstControl(bytes: Uint8Array): number {
  for (let i = 0; i < bytes.length; i++) {
    const byte = bytes[i];
    if (byte < 0x20 && byte !== 0x09 && byte !== 0x0a && byte !== 0x0d) return i;
  }
  return -1;
}

/** Every second byte of the beginning is NUL: plain text in 16-bit units whose order nobody states. */
function looksLikeUtf16(bytes: Uint8Array): boolean {
  const head = bytes.subarray(0, Math.min(bytes.length, 4096) & ~1);
  const zeros = [0, 0];
  for (const [i, byte] of head.entries()) if (byte === 0) zeros[i % 2]++;
  return head.length >= 4 && Math.max(...zeros) > 0.4 * head.length && Math.min(...zeros) === 0;
}

type Refuse = (found: string, offset?: number) => never;

/** UTF-16 with its byte order mark to UTF-8; other bytes as they are, without a UTF-8 byte order mark. */
function toUtf8(bytes: Uint8Array, refuse: Refuse): Uint8Array {
  const [first, second, third] = bytes;
  if (first === 0xef && second === 0xbb && third === 0xbf) return bytes.subarray(3);
  const order = first === 0xff && second === 0xfe ? "utf-16le" : first === 0xfe && second === 0xff ? "utf-16be" : "";
  if (order === "") return bytes;
  let text: string;
  try {
    text = new TextDecoder(order, { fatal: true }).decode(bytes);
  } catch {
    return refuse("UTF-16 text with a cut or broken character (save the table as UTF-8)");
  }
  return new TextEncoder().encode(text);
}

/**
 * The bytes of a text table as UTF-8 without byte order mark; UTF-16 is read when its byte order mark says so.
 * Nothing is repaired: a binary file read as text would turn into plausible numbers somewhere.
 *
 * @throws FerruleError InvalidFile: empty, blank, UTF-16 without mark, control bytes (a binary file), not UTF-8
 */
export function textBytes(bytes: Uint8Array, { file }: { readonly file?: string } = {}): Uint8Array {
  let seen = bytes;
  const refuse: Refuse = (found, offset) => {
    const place = offset === undefined ? {} : positionOf(seen, offset);
    throw new FerruleError("InvalidFile", { file, ...place, found, accepted: textExample });
  };
  if (bytes.length === 0) refuse("an empty file");
  seen = toUtf8(bytes, refuse);
  const control = firstControl(seen);
  if (control >= 0 && looksLikeUtf16(seen)) {
    refuse("UTF-16 text without a byte order mark (save the table as UTF-8)", control);
  }
  if (control >= 0) refuse(`a control byte 0x${seen[control].toString(16).padStart(2, "0")}: a binary file`, control);
  const invalid = firstInvalidUtf8(seen);
  if (invalid >= 0) refuse("a byte that is not UTF-8", invalid);
  if (isBlankText(seen)) refuse("a file of blanks only");
  return seen;
}

function isBlankText(bytes: Uint8Array): boolean {
  for (const byte of bytes.subarray(0, 65_536)) if (byte > 0x20 && byte < 0x80) return false;
  return new TextDecoder().decode(bytes).trim() === "";
}
