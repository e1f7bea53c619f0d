import { FerruleError } from "../../errors.js";
import { bytesPerElement, countOf, type NpyArray } from "./types.js";

/** `(3, 4)`, `(3,)`, `()`: the spelling of a Python tuple. */
const tuple = (shape: readonly number[]): string => (shape.length === 1 ? `(${shape[0]},)` : `(${shape.join(", ")})`);

/**
 * An array as an NPY file, version 1.0, C order, little-endian; the header is padded so that data start at a multiple
 * of 64 bytes. Equal arrays give equal bytes: the format stores neither time nor name.
 *
 * @throws FerruleError ShapeMismatch when shape and data disagree
 * Checked by  npy.test.ts (byte-equal to files written by NumPy)
 */
export function writeNpy({ type, shape, data }: NpyArray): Uint8Array {
  if (countOf(shape) !== data.length || shape.some((count) => !Number.isSafeInteger(count) || count < 0)) {
    throw new FerruleError("ShapeMismatch", {
      path: "shape",
      found: `shape (${shape.join(", ")}) for ${data.length} elements`,
      accepted: `a shape whose product is ${data.length}`,
    });
  }
  const dictionary = `{'descr': '${type}', 'fortran_order': False, 'shape': ${tuple(shape)}, }`;
  const length = Math.ceil((10 + dictionary.length + 1) / 64) * 64;
  const bytes = new Uint8Array(length + data.length * bytesPerElement[type]);
  bytes.set([0x93, 0x4e, 0x55, 0x4d, 0x50, 0x59, 1, 0]);
  new DataView(bytes.buffer).setUint16(8, length - 10, true);
  bytes.set(new TextEncoder().encode(`${dictionary.padEnd(length - 11)}\n`), 10);
  bytes.set(new Uint8Array(data.buffer, data.byteOffset, data.byteLength), length);
  return bytes;
}
