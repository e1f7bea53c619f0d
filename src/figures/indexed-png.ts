/** A picture whose elements are indices into a list of colours. */
export interface IndexedPicture {
  readonly width: number;
  readonly height: number;
  /** Row by row from the top, shape [height, width]. */
  readonly indices: Uint8Array;
  /** Up to 256 colours, bytes r, g, b. */
  readonly colours: readonly (readonly [number, number, number])[];
  /** This index is left out of the picture. */
  readonly clearIndex?: number;
}

const crcTable = Uint32Array.from({ length: 256 }, (_, n) => {
  let c = n;
  for (let k = 0; k < 8; k++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
  return c >>> 0;
});

function crc32(bytes: Uint8Array): number {
  let c = 0xffffffff;
  for (const byte of bytes) c = crcTable[(c ^ byte) & 0xff] ^ (c >>> 8);
  return (c ^ 0xffffffff) >>> 0;
}

function adler32(bytes: Uint8Array): number {
  let [a, b] = [1, 0];
  for (const byte of bytes) {
    a = (a + byte) % 65521;
    b = (b + a) % 65521;
  }
  return ((b << 16) | a) >>> 0;
}

const bigEndian = (value: number): number[] => [24, 16, 8, 0].map((shift) => (value >>> shift) & 0xff);

function joined(parts: readonly ArrayLike<number>[]): Uint8Array {
  const out = new Uint8Array(parts.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const part of parts) {
    out.set(part, at);
    at += part.length;
  }
  return out;
}

function chunk(name: string, body: ArrayLike<number>): Uint8Array {
  const named = joined([Array.from(name, (letter) => letter.charCodeAt(0)), body]);
  return joined([bigEndian(body.length), named, bigEndian(crc32(named))]);
}

const blockLength = 65535;

/** A zlib stream of stored blocks: as long as its content, and no compressor is needed. */
function zlibStored(bytes: Uint8Array): Uint8Array {
  const blocks = Array.from({ length: Math.max(1, Math.ceil(bytes.length / blockLength)) }, (_, i) => {
    const block = bytes.subarray(i * blockLength, (i + 1) * blockLength);
    const isLast = (i + 1) * blockLength >= bytes.length;
    const { length } = block;
    const inverse = ~length & 0xffff;
    return joined([[isLast ? 1 : 0, length & 0xff, length >> 8, inverse & 0xff, inverse >> 8], block]);
  });
  return joined([[0x78, 0x01], ...blocks, bigEndian(adler32(bytes))]);
}

/**
 * The picture as a PNG file: one byte for each element.
 *
 * Source      PNG (ISO/IEC 15948), zlib (RFC 1950), stored blocks (RFC 1951, 3.2.4); from memory
 * Checked by  indexed-png.test.ts: another zlib inflates it and agrees on both sums
 */
export function indexedPng({ width, height, indices, colours, clearIndex }: IndexedPicture): Uint8Array {
  const scanlines = new Uint8Array((width + 1) * height); // each row after a byte 0: no filter
  for (let row = 0; row < height; row++)
    scanlines.set(indices.subarray(row * width, (row + 1) * width), row * (width + 1) + 1);
  const clear =
    clearIndex === undefined
      ? []
      : [
          chunk(
            "tRNS",
            colours.map((_, i) => (i === clearIndex ? 0 : 255)),
          ),
        ];
  return joined([
    [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a],
    chunk("IHDR", [...bigEndian(width), ...bigEndian(height), 8, 3, 0, 0, 0]),
    chunk("PLTE", colours.flat()),
    ...clear,
    chunk("IDAT", zlibStored(scanlines)),
    chunk("IEND", []),
  ]);
}

/** The picture inside an address, to stand in an svg. */
export function pngAddress(picture: IndexedPicture): string {
  const letters = Array.from(indexedPng(picture), (byte) => String.fromCharCode(byte)).join("");
  return `data:image/png;base64,${btoa(letters)}`;
}
