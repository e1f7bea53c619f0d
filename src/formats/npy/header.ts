import { FerruleError } from "../../errors.js";
import { isNpyType, type NpyType, npyTypes } from "./types.js";

export interface NpyHeader {
  readonly type: NpyType;
  /** Row-major, last axis fastest; empty for a single number. */
  readonly shape: readonly number[];
  /** Byte offset of the first element. */
  readonly dataOffset: number;
}

const magic = [0x93, 0x4e, 0x55, 0x4d, 0x50, 0x59]; // \x93NUMPY
const longestHeader = 65536; // ours is 64-128 bytes; a longer one is damage, not data

interface Place {
  readonly file?: string;
}

const refuse = (found: string, accepted: string, { file }: Place): never => {
  throw new FerruleError("InvalidFile", { file, found, accepted });
};

/** The dictionary's text and where the elements start: 2 bytes of length in version 1, 4 in version 2. */
function headerText(bytes: Uint8Array, place: Place): { text: string; dataOffset: number } {
  if (bytes.length === 0) refuse("an empty file", "an NPY file", place);
  if (!magic.every((byte, i) => bytes[i] === byte))
    refuse("a file that does not start with \\x93NUMPY", "an NPY file", place);
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const start = bytes[6] === 1 ? 10 : 12;
  if (bytes.length < start) refuse(`a file of ${bytes.length} bytes, cut within its header`, "a whole NPY file", place);
  const version = `${bytes[6]}.${bytes[7]}`;
  if (version !== "1.0" && version !== "2.0") refuse(`NPY version ${version}`, "NPY version 1.0 or 2.0", place);
  const length = bytes[6] === 1 ? view.getUint16(8, true) : view.getUint32(8, true);
  if (length > longestHeader)
    refuse(`a header of ${length} bytes`, `a header of at most ${longestHeader} bytes`, place);
  if (bytes.length < start + length)
    refuse(`a file cut within its header (${bytes.length} of ${start + length} bytes)`, "a whole NPY file", place);
  return { text: String.fromCharCode(...bytes.subarray(start, start + length)), dataOffset: start + length };
}

/** The value of one key in the header's dictionary, as text; the format allows exactly three keys. */
const keyPattern = (key: string, value: string): RegExp => new RegExp(`['"]${key}['"]\\s*:\\s*${value}\\s*[,}]`);

function readType(text: string, place: Place): NpyType {
  const accepted = `one of ${npyTypes.join(", ")}, e.g. written by np.save(file, a.astype("<f8"))`;
  const descr = keyPattern("descr", `['"]([^'"]*)['"]`).exec(text)?.[1];
  if (descr === undefined) refuse("an element type that is a structure, or none", accepted, place);
  if (descr!.includes("O"))
    refuse('elements of type "O" (pickled objects: reading them would run code)', accepted, place);
  if (descr!.startsWith(">")) refuse(`big-endian elements "${descr}"`, accepted, place);
  if (!isNpyType(descr!)) refuse(`elements of type "${descr}"`, accepted, place);
  return descr as NpyType;
}

function readShape(text: string, place: Place): number[] {
  const accepted = "a shape such as (3, 4) with counts that this machine can hold";
  const inside = keyPattern("shape", "\\(([^()]*)\\)").exec(text)?.[1];
  if (inside === undefined) refuse("a header without a shape", accepted, place);
  const parts = inside!.split(",").map((part) => part.trim());
  if (parts.at(-1) === "") parts.pop(); // "(3,)" and "()"
  const shape = parts.map((part) => (/^\d+L?$/.test(part) ? Number.parseInt(part, 10) : Number.NaN));
  const total = shape.reduce((product, count) => product * count, 1);
  if (!Number.isSafeInteger(total)) refuse(`shape (${inside})`, accepted, place);
  return shape;
}

/**
 * The header of an NPY file (version 1.0 and 2.0), read strictly and without evaluating it.
 *
 * Source      NumPy's published description of the NPY format: from memory; checked against files written by NumPy.
 * @throws FerruleError InvalidFile: wrong magic, version, element type (pickles among them), order or shape
 */
export function readNpyHeader(bytes: Uint8Array, place: Place = {}): NpyHeader {
  const { text, dataOffset } = headerText(bytes, place);
  const order = keyPattern("fortran_order", "(True|False)").exec(text)?.[1];
  if (order === undefined) refuse("a header that does not say fortran_order", "True or False", place);
  const shape = readShape(text, place);
  // With fewer than two axes longer than 1 both orders are the same bytes.
  if (order === "True" && shape.filter((count) => count > 1).length > 1) {
    refuse("elements in Fortran order", "C order, e.g. np.save(file, np.ascontiguousarray(a))", place);
  }
  return { type: readType(text, place), shape, dataOffset };
}
