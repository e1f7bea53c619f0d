import { readFileSync } from "node:fs";
import { langevin, langevinCurvature, langevinRatio, langevinSlope } from "../../src/physics/index.js";

/** Shared by the gate and the meter: our values against the 60-digit table, range by range. */
export const kernels = {
  L: langevin,
  slope: langevinSlope,
  curvature: langevinCurvature,
  ratio: langevinRatio,
} as const;
export type KernelName = keyof typeof kernels;

interface Truth {
  readonly columns: readonly string[];
  readonly widths: Readonly<Record<"slope" | "ratio", string>>;
  readonly ranges: Readonly<Record<string, readonly (readonly string[])[]>>;
}

export const truth: Truth = JSON.parse(readFileSync(new URL("./truth.json", import.meta.url), "utf8"));

export interface Worst {
  readonly range: string;
  readonly kernel: KernelName;
  readonly points: number;
  readonly relativeError: number;
  readonly xi: number;
}

export type Ranges = Truth["ranges"];

/** The worst relative error of one function in one range. Truth that rounds to zero must be met exactly. */
export function worstError(range: string, kernel: KernelName, ranges: Ranges = truth.ranges): Worst {
  const rows = ranges[range] ?? [];
  const column = truth.columns.indexOf(kernel);
  let worst = { relativeError: 0, xi: Number.NaN };
  for (const row of rows) {
    const xi = Number(row[0]);
    const expected = Number(row[column]); // the double nearest to the 25-digit value: adds at most 1.1e-16
    const error = relativeError(kernels[kernel](xi), expected);
    if (!(error <= worst.relativeError)) worst = { relativeError: error, xi };
  }
  return { range, kernel, points: rows.length, ...worst };
}

/** |found - expected| / |expected|; where both are subnormal, 0 if equal and infinite otherwise (no relative error there). */
function relativeError(found: number, expected: number): number {
  if (Object.is(found, expected) || found === expected) return 0;
  if (Math.abs(expected) < 2.2250738585072014e-308) return Number.POSITIVE_INFINITY;
  return Math.abs(found - expected) / Math.abs(expected);
}

export function allWorst(ranges: Ranges = truth.ranges): Worst[] {
  const names = Object.keys(kernels) as KernelName[];
  return Object.keys(ranges).flatMap((range) => names.map((kernel) => worstError(range, kernel, ranges)));
}
