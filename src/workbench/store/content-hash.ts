import { createHash } from "node:crypto";

/** SHA-256 of bytes or text, hexadecimal. */
export function contentHash(data: string | Uint8Array): string {
  return createHash("sha256").update(data).digest("hex");
}
