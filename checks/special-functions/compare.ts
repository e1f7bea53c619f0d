import { readFileSync } from "node:fs";

/** Arguments, then the value(s) as decimal text. */
export type Row = readonly (number | string)[];
type Ranges = Readonly<Record<string, readonly Row[]>>;
export interface Truth {
  readonly erf: Ranges;
  readonly erfc: Ranges;
  readonly normalCdf: Ranges;
  readonly logGamma: Ranges;
  readonly incompleteBeta: Ranges;
  readonly incompleteGamma: Ranges;
  readonly normalQuantile: readonly Row[];
  readonly studentTTail: readonly Row[];
  readonly studentTQuantile: readonly Row[];
  readonly chiSquareQuantile: readonly Row[];
  readonly betaQuantile: readonly Row[];
  readonly legendre: Readonly<Record<string, { nodes: number[]; weights: number[] }>>;
  readonly hermite: Truth["legendre"];
}
export const truth: Truth = JSON.parse(readFileSync(new URL("truth.json", import.meta.url), "utf8"));

/** Worst relative error over the rows; a value of 0 counts only when it must be 0. */
export function worst(rows: readonly Row[], values: (...args: number[]) => number | readonly number[]): number {
  const errors = rows.map((row) => {
    const args = row.filter((entry) => typeof entry === "number");
    const expected = row.filter((entry) => typeof entry === "string").map(Number);
    const actual = [values(...args)].flat();
    if (actual.length !== expected.length)
      throw new Error(`${actual.length} values where the table has ${expected.length}`);
    return Math.max(...expected.map((value, i) => (value === actual[i] ? 0 : Math.abs(actual[i] / value - 1))));
  });
  if (errors.length === 0) throw new Error("no rows: a missing sample is a failure");
  return Math.max(...errors);
}

/** The smaller of two tails, which is the one that is computed; the other is 1 minus it. */
export function worstSmallerTail(
  rows: readonly Row[],
  tails: (...args: number[]) => { lower: number; upper: number },
): number {
  const smaller = rows.map((row) => {
    const [lower, upper] = row.slice(-2);
    const isLower = Number(lower) <= Number(upper);
    return { isLower, row: [...row.slice(0, -2), isLower ? lower : upper] };
  });
  return Math.max(
    ...smaller.map(({ isLower, row }) => worst([row], (...args) => tails(...args)[isLower ? "lower" : "upper"])),
  );
}
