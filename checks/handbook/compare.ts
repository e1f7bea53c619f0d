import { readFileSync } from "node:fs";

/** A value of the handbook as printed in our reference sheet, and how close we must come to it. */
export interface FormulaCase {
  readonly row: string;
  readonly formula: string;
  readonly inputs: Readonly<Record<string, string>>;
  readonly output: string;
  readonly value: string;
  /** Relative tolerance that the sheet states (rows W) or that `why` gives; absent: half a unit of the last printed digit. */
  readonly rtol?: number;
  readonly why?: string;
}

export interface TensorCase {
  readonly row: string;
  readonly diagonal_T_per_m: readonly [number, number, number];
  readonly drive: "x" | "y" | "z";
  readonly along: "x" | "y" | "z";
  readonly width_mm: string;
}

interface Truth {
  readonly formulas: readonly FormulaCase[];
  readonly table: { readonly columns: readonly string[]; readonly rows: readonly (readonly string[])[] };
  readonly tensors: readonly TensorCase[];
  readonly constants: Readonly<Record<string, string>>;
  readonly fourier: readonly (readonly [string, string])[];
}

export const truth: Truth = JSON.parse(readFileSync(new URL("./truth.json", import.meta.url), "utf8"));

/**
 * Half a unit of the last printed digit, as a relative tolerance: a printed number says no more.
 * The 1 % on top admits a value that the sheet's author rounded from the last bit on the other side.
 */
export function printedTolerance(printed: string): number {
  const [mantissa = "", exponent = "0"] = printed.split("e");
  const decimals = mantissa.split(".")[1]?.length ?? 0;
  const halfUnit = 0.5 * 10 ** (Number(exponent) - decimals);
  return (1.01 * halfUnit) / Math.abs(Number(printed));
}

export function relativeDeviation(found: number, printed: string): number {
  return Math.abs(found - Number(printed)) / Math.abs(Number(printed));
}
