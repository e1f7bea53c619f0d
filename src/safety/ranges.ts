import { FerruleError } from "../errors.js";

/** Refuses anything but a finite number above zero, naming the place and an example. */
export function requirePositive(value: number, path: string, example: string): number {
  if (Number.isFinite(value) && value > 0) return value;
  throw new FerruleError("InvalidValue", {
    path,
    found: String(value),
    accepted: `a finite number above 0, e.g. ${example}`,
  });
}

/** Refuses anything but a finite number from zero up. */
export function requireNotNegative(value: number, path: string, example: string): number {
  if (Number.isFinite(value) && value >= 0) return value;
  throw new FerruleError("InvalidValue", {
    path,
    found: String(value),
    accepted: `a finite number, 0 or above, e.g. ${example}`,
  });
}

/** Refuses a text that says nothing: a figure without its source is not shown. */
export function requireText(text: string, path: string, example: string): string {
  if (text.trim() !== "") return text;
  throw new FerruleError("MissingFact", { path, found: "an empty text", accepted: `a few words, e.g. "${example}"` });
}
