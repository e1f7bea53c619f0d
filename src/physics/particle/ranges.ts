import { FerruleError } from "../../errors.js";

/** Refuses anything but a finite number above zero, naming the place and an example. */
export function requirePositive(value: number, path: string, example: string): number {
  if (Number.isFinite(value) && value > 0) return value;
  throw new FerruleError("InvalidValue", {
    path,
    found: String(value),
    accepted: `a finite number above 0, e.g. ${example}`,
  });
}

/** Refuses anything but a number between two bounds, both allowed. */
export function requireBetween(
  value: number,
  [low, high]: readonly [number, number],
  { path, example }: { path: string; example: string },
): number {
  if (value >= low && value <= high) return value;
  throw new FerruleError("InvalidValue", {
    path,
    found: String(value),
    accepted: `a number from ${low} to ${high}, e.g. ${example}`,
  });
}
