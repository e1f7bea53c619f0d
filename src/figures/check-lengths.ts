import { FerruleError } from "../errors.js";

/** @throws FerruleError ShapeMismatch for an array that is there and not of that length */
export function checkLengths(
  arrays: Readonly<Record<string, ArrayLike<number> | undefined>>,
  length: number,
  words: string,
): void {
  for (const [path, values] of Object.entries(arrays)) {
    if (values === undefined || values.length === length) continue;
    const found = `${values.length} values`;
    throw new FerruleError("ShapeMismatch", { path, found, accepted: `${length} values, ${words}` });
  }
}
