import { readFileSync, statSync } from "node:fs";
import { FerruleError } from "../../errors.js";

/** Reads a file that the user named. A folder or an oversized file is refused before its bytes are asked for. */
export function readInput(path: string, { largest_bytes = 2 ** 30 }: { largest_bytes?: number } = {}): Uint8Array {
  const stat = statSync(path);
  if (!stat.isFile())
    throw new FerruleError("InvalidFile", {
      file: path,
      found: stat.isDirectory() ? "a folder" : "something that is not a regular file",
      accepted: "a file",
    });
  if (stat.size > largest_bytes)
    throw new FerruleError("InvalidFile", {
      file: path,
      found: `${stat.size} bytes`,
      accepted: `at most ${largest_bytes} bytes for a file of this kind`,
    });
  return plainBytes(readFileSync(path));
}

/** The same bytes without Node's Buffer class, whose slice() shares memory where that of a Uint8Array copies. */
export function plainBytes(buffer: Buffer): Uint8Array {
  return new Uint8Array(buffer.buffer, buffer.byteOffset, buffer.length);
}

export function readTextInput(path: string): string {
  return decodeTextInput(readInput(path, { largest_bytes: 64 * 2 ** 20 }), path);
}

/** Bytes of a text file as text. A byte that is not UTF-8 is refused: replaced, it would be read as something else. */
export function decodeTextInput(bytes: Uint8Array, path: string): string {
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    throw new FerruleError("InvalidFile", {
      file: path,
      found: "bytes that are not UTF-8 text",
      accepted: "a text file in UTF-8 (save it again with that encoding)",
    });
  }
}
