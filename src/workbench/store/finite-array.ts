import { FerruleError } from "../../errors.js";
import { readNpy } from "../../formats/index.js";
import type { FileSource } from "./file-source.js";

export interface ExpectedArray {
  readonly shape: readonly number[];
  /** The sidecar that says so. */
  readonly sidecar: string;
  /** Refuse negative elements, e.g. of a standard deviation. */
  readonly isNonNegative?: boolean;
}

/**
 * An NPY file of real numbers as its sidecar describes it. Single precision is widened.
 *
 * @throws FerruleError InvalidFile, ShapeMismatch (array against sidecar), InvalidValue (element that is not finite)
 */
export function readFiniteArray(
  source: FileSource,
  name: string,
  { shape, sidecar, isNonNegative = false }: ExpectedArray,
): Float64Array {
  const file = source.path(name);
  const array = readNpy(source.read(name), { file });
  if (array.type !== "<f8" && array.type !== "<f4")
    throw new FerruleError("InvalidFile", {
      file,
      found: `elements of type "${array.type}"`,
      accepted: 'real numbers, "<f8" or "<f4", e.g. np.save(file, a.astype("<f8"))',
    });
  if (array.shape.length !== shape.length || array.shape.some((count, i) => count !== shape[i]))
    throw new FerruleError("ShapeMismatch", {
      file,
      found: `an array of shape (${array.shape.join(", ")})`,
      accepted: `shape (${shape.join(", ")}), as its sidecar ${sidecar} says; or a sidecar that fits the array`,
    });
  const values = Float64Array.from(array.data);
  const bad = values.findIndex((value) => !Number.isFinite(value) || (isNonNegative && value < 0));
  if (bad >= 0)
    throw new FerruleError("InvalidValue", {
      file,
      path: `[${indexOf(bad, shape).join(", ")}]`,
      found: String(values[bad]),
      accepted: isNonNegative ? "finite numbers of at least 0" : "finite numbers",
    });
  return values;
}

/** Row-major index of element `flat`, last axis fastest. */
function indexOf(flat: number, shape: readonly number[]): number[] {
  const index: number[] = [];
  let rest = flat;
  for (const count of [...shape].reverse()) {
    index.unshift(rest % count);
    rest = Math.floor(rest / count);
  }
  return index;
}
