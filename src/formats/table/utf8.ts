/** Bytes that follow a lead byte, and the least and greatest second byte (Unicode 15, table 3-7, from memory). */
function afterLead(lead: number): readonly [count: number, low: number, high: number] | undefined {
  if (lead >= 0xc2 && lead <= 0xdf) return [1, 0x80, 0xbf];
  if (lead === 0xe0) return [2, 0xa0, 0xbf]; // shorter forms are refused
  if (lead === 0xed) return [2, 0x80, 0x9f]; // surrogates are no characters
  if (lead >= 0xe1 && lead <= 0xef) return [2, 0x80, 0xbf];
  if (lead === 0xf0) return [3, 0x90, 0xbf];
  if (lead >= 0xf1 && lead <= 0xf3) return [3, 0x80, 0xbf];
  if (lead === 0xf4) return [3, 0x80, 0x8f]; // nothing beyond U+10FFFF
  return undefined;
}

/**
 * Offset of the first byte that breaks UTF-8, or -1. A decoder would tell that something is wrong, not where.
 *
 * Checked by  text-bytes.test.ts (a text decoder, on random bytes)
 */
export function firstInvalidUtf8(bytes: Uint8Array): number {
  for (let i = 0; i < bytes.length; i++) {
    if (bytes[i] < 0x80) continue;
    const rule = afterLead(bytes[i]);
    if (rule === undefined) return i;
    const [count, low, high] = rule;
    if (i + count >= bytes.length) return i;
    if (bytes[i + 1] < low || bytes[i + 1] > high) return i;
    for (let j = 2; j <= count; j++) if (bytes[i + j] >> 6 !== 2) return i;
    i += count;
  }
  return -1;
}
