import { inflateSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { indexedPng } from "./indexed-png.js";
import { cellPicture } from "./plane-panel.js";
import { sequentialRgb } from "./sequential-ramp.js";

/** The CRC of ISO 3309 bit by bit from its polynomial, without a table. */
function crcOf(bytes: Uint8Array): number {
  let register = 0xffffffff;
  for (const byte of bytes)
    for (let bit = 0; bit < 8; bit++) {
      const isOdd = ((register ^ (byte >> bit)) & 1) === 1;
      register = isOdd ? (register >>> 1) ^ 0xedb88320 : register >>> 1;
    }
  return ~register >>> 0;
}

/** Chunks by name; throws where a sum is wrong (`inflateSync` checks the other one). */
function chunksOf(png: Uint8Array): Map<string, Uint8Array> {
  const view = new DataView(png.buffer, png.byteOffset, png.length);
  const chunks = new Map<string, Uint8Array>();
  for (let at = 8; at < png.length; ) {
    const length = view.getUint32(at);
    const name = String.fromCharCode(...png.subarray(at + 4, at + 8));
    expect(view.getUint32(at + 8 + length), name).toBe(crcOf(png.subarray(at + 4, at + 8 + length)));
    chunks.set(name, png.subarray(at + 8, at + 8 + length));
    at += 12 + length;
  }
  return chunks;
}

/** Index of every element, and the colours. */
function read(png: Uint8Array) {
  const chunks = chunksOf(png);
  const head = chunks.get("IHDR")!;
  const { buffer, byteOffset, length } = head;
  const view = new DataView(buffer, byteOffset, length);
  const [width, height] = [view.getUint32(0), view.getUint32(4)];
  expect([...head.subarray(8)]).toEqual([8, 3, 0, 0, 0]); // 8 bits, palette, no interlace
  const lines = inflateSync(chunks.get("IDAT")!);
  expect(lines.length).toBe((width + 1) * height);
  const rows = Array.from({ length: height }, (_, r) => [...lines.subarray(r * (width + 1), (r + 1) * (width + 1))]);
  expect(rows.every(([filter]) => filter === 0)).toBe(true);
  return {
    width,
    height,
    rows: rows.map((row) => row.slice(1)),
    colours: chunks.get("PLTE")!,
    clear: chunks.get("tRNS"),
  };
}

const colours = Array.from({ length: 256 }, (_, i) => [i, 255 - i, 7] as const);

describe("indexedPng", () => {
  it("is read back by another zlib, element by element", () => {
    const indices = Uint8Array.from({ length: 15 }, (_, i) => (i * 37) % 256);
    const png = indexedPng({ width: 5, height: 3, indices, colours });
    expect([...png.subarray(0, 8)]).toEqual([137, 80, 78, 71, 13, 10, 26, 10]);
    const { width, height, rows, colours: list, clear } = read(png);
    expect([width, height]).toEqual([5, 3]);
    expect(rows.flat()).toEqual([...indices]);
    expect([...list.subarray(30, 33)]).toEqual([10, 245, 7]);
    expect(clear).toBeUndefined();
  });
  it("goes on in further blocks above 65535 bytes", () => {
    const indices = Uint8Array.from({ length: 300 * 230 }, (_, i) => (i * i) % 251);
    expect(read(indexedPng({ width: 300, height: 230, indices, colours })).rows.flat()).toEqual([...indices]);
  });
});

describe("cellPicture", () => {
  const slice = { plane: "xz", at_m: 0, shape: [2, 3], across_m: [0, 1], up_m: [0, 1] } as const;
  const scale = { ramp: "field", low: 0, high: 2, factor: 1, unit: "T", quantity: "q" } as const;
  it("puts the lowest row at the bottom, zero at the first colour, and cells without a value in none", () => {
    const values = Float64Array.of(0, 1, 2, Number.NaN, 5, -1);
    const address = cellPicture({ ...slice, values }, scale);
    expect(address.slice(0, 22)).toBe("data:image/png;base64,");
    const { rows, colours: list, clear } = read(new Uint8Array(Buffer.from(address.slice(22), "base64")));
    expect(rows).toEqual([
      [0, 255, 1],
      [1, 128, 255],
    ]);
    expect([clear![0], clear![1], clear![255]]).toEqual([0, 255, 255]);
    expect([...list.subarray(3, 6)]).toEqual(sequentialRgb(0, "field"));
    expect([...list.subarray(765, 768)]).toEqual(sequentialRgb(1, "field"));
  });
});
