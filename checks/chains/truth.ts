import { readFileSync } from "node:fs";

/** Tables of truth.json by name. */
type Row = readonly (string | number | readonly unknown[])[];
const truth: Record<string, readonly Row[]> = JSON.parse(
  readFileSync(new URL("./truth.json", import.meta.url), "utf8"),
);

export function rowsOf(name: string): readonly Row[] {
  const found = truth[name];
  if (!Array.isArray(found)) throw new Error(`truth.json has no table "${name}"`);
  return found;
}

/** A number, or a list of numbers or rows, printed in our references. */
export function published(name: string): unknown {
  const found = (truth.published as unknown as Record<string, unknown>)[name];
  if (found === undefined) throw new Error(`truth.json has no published "${name}"`);
  return found;
}

export const numbersOf = (row: unknown): number[] => (row as readonly (string | number)[]).map(Number);

/** One figure against its truth; `error` relative unless it says otherwise. */
export interface Comparison {
  readonly what: string;
  readonly found: number;
  readonly truth: number;
  readonly error: number;
}

export function relative(what: string, found: number, expected: number): Comparison {
  return { what, found, truth: expected, error: Math.abs(found / expected - 1) };
}

export function absolute(what: string, found: number, expected: number): Comparison {
  return { what, found, truth: expected, error: Math.abs(found - expected) };
}
