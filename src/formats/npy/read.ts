import { FerruleError } from "../../errors.js";
import { readNpyHeader } from "./header.js";
import { bytesPerElement, countOf, type NpyArray } from "./types.js";

export interface ReadNpyOptions {
  /** Name for messages; no file is opened here. */
  readonly file?: string;
  /** Refuse arrays with more elements than this (default 2^28: 2 GiB of float64). */
  readonly maximumElements?: number;
}

/**
 * An NPY file (1.0 or 2.0; C order; float64, float32, int32, int64, uint8, bool; little-endian) to a typed array.
 * The sizes are compared before anything is allocated; one byte too few or too many is refused.
 *
 * @throws FerruleError InvalidFile
 * Checked by  npy.test.ts (files written by NumPy; round trip)
 */
export function readNpy(bytes: Uint8Array, { file, maximumElements = 2 ** 28 }: ReadNpyOptions = {}): NpyArray {
  const { type, shape, dataOffset } = readNpyHeader(bytes, { file });
  const count = countOf(shape);
  const refuse = (found: string, accepted: string): never => {
    throw new FerruleError("InvalidFile", { file, found, accepted });
  };
  const size = `shape (${shape.join(", ")}) of ${type}`;
  if (count > maximumElements) refuse(`${count} elements (${size})`, `at most ${maximumElements} elements`);
  const needed = count * bytesPerElement[type];
  const held = bytes.length - dataOffset;
  if (held < needed) refuse(`${held} bytes of data: the file is truncated`, `${needed} bytes for ${size}`);
  if (held > needed) refuse(`${held} bytes of data, ${held - needed} too many`, `${needed} bytes for ${size}`);
  // A copy of plain bytes: typed arrays need aligned offsets, and the slice of a Node Buffer would share its pool.
  const data = new Uint8Array(bytes.subarray(dataOffset)).buffer;
  switch (type) {
    case "<f8":
      return { type, shape, data: new Float64Array(data) };
    case "<f4":
      return { type, shape, data: new Float32Array(data) };
    case "<i4":
      return { type, shape, data: new Int32Array(data) };
    case "<i8":
      return { type, shape, data: new BigInt64Array(data) };
    default: {
      const flags = new Uint8Array(data);
      if (type === "|b1" && flags.some((byte) => byte > 1)) refuse("a boolean byte above 1", "0 or 1 in a bool array");
      return { type, shape, data: flags };
    }
  }
}
