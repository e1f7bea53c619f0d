import { studentTCdf } from "../../numerics/index.js";
import type { MagnetisationCurve } from "./curve.js";
import { coerciveField, type Measured, remanentValue } from "./zero-crossing.js";

/** Part of a curve in which the field only rises, or only falls; `rows` in the order of acquisition. */
export interface BranchRows {
  readonly direction: "ascending" | "descending";
  readonly rows: readonly number[];
}

/** Ascending against descending part of a loop, where both were measured. */
export interface BranchComparison {
  readonly ascending: readonly number[];
  readonly descending: readonly number[];
  /** Fields at which both branches are known, T. */
  readonly overlap_T: readonly [number, number];
  /** Pairs compared: rows of the shorter branch against the other, interpolated. */
  readonly pairs: number;
  /** Mean of descending - ascending, unit of the curve. */
  readonly meanDifference: number;
  readonly standardUncertainty: number;
  /** chi2 of all differences, where sigma is stated; else NaN. */
  readonly chiSquared: number;
  /** Two-sided probability of so large a mean difference without hysteresis. */
  readonly pValue: number;
  readonly differ: boolean;
  /** Half the distance between the two zero crossings, mu0H in T. */
  readonly coerciveField_T: Measured | undefined;
  /** Half the distance between the two branches at zero field, unit of the curve. */
  readonly remanence: Measured | undefined;
}

/** Below this probability two branches are said to differ: one false alarm in 1000 honest loops. */
const differLevel = 1e-3;

/**
 * Splits a curve where the sweep turns. Steps of zero, and back-steps smaller than 0.1 % of the range (a field that
 * settles), do not turn it.
 *
 * @param field_T  mu0H in the order of acquisition, T, shape [n]
 */
export function splitBranches(field_T: Float64Array): BranchRows[] {
  const range =
    field_T.reduce((a, b) => Math.max(a, b), -Infinity) - field_T.reduce((a, b) => Math.min(a, b), Infinity);
  const jitter = 1e-3 * range;
  const parts: { direction: "ascending" | "descending"; rows: number[] }[] = [];
  let extreme = 0; // row of the furthest field in the present direction
  let start = 0;
  let sign = 0;
  for (let i = 1; i < field_T.length; i++) {
    const step = field_T[i] - field_T[extreme];
    if (sign === 0 && Math.abs(step) > jitter) sign = Math.sign(step);
    if (sign === 0) continue;
    if (sign * step >= 0) extreme = i;
    else if (sign * step < -jitter) {
      parts.push(part(sign, start, extreme));
      [start, sign, extreme] = [extreme, -sign, i];
    }
  }
  parts.push(part(sign, start, field_T.length - 1));
  return parts;
}

function part(sign: number, from: number, to: number): { direction: "ascending" | "descending"; rows: number[] } {
  const rows = Array.from({ length: to - from + 1 }, (_, k) => from + k);
  return { direction: sign < 0 ? "descending" : "ascending", rows };
}

/**
 * Compares the longest ascending with the longest descending part of a curve.
 *   D(B) = M_descending(B) - M_ascending(B) at the rows of the one with fewer in the overlap; the other interpolated
 *   linearly. Mean of D against its standard uncertainty: from sigma where stated, else from the scatter of D after its
 *   own smooth course (successive differences).
 *
 * @returns `undefined` where the curve has not both, with at least five fields in common
 *
 * Valid for   loops sampled finely enough for linear interpolation: the same interpolation error with opposite signs on
 *             the two sides of zero cancels in the mean
 * Source      derived; von Neumann's successive differences for the scatter: common practice
 * Checked by  branches.test.ts (chains with known coercive field and remanence; false alarms counted)
 */
export function compareBranches(curve: MagnetisationCurve): BranchComparison | undefined {
  const parts = splitBranches(curve.field_T);
  const [up, down] = (["ascending", "descending"] as const).map((direction) =>
    longest(parts.filter((each) => each.direction === direction)),
  );
  if (up === undefined || down === undefined) return undefined;
  const overlap = overlapOf(curve.field_T, up, down);
  const [a, b] = [sorted(curve, up), sorted(curve, down)];
  const inside = (rows: readonly number[]) =>
    rows.filter((i) => curve.field_T[i] >= overlap[0] && curve.field_T[i] <= overlap[1]);
  const [fewer, other, sign] = inside(a).length <= inside(b).length ? [a, b, 1] : [b, a, -1];
  const pairs = inside(fewer);
  if (pairs.length < 5) return undefined;
  const differences = differencesAt(curve, pairs, other).map((d) => ({ ...d, value: sign * d.value }));
  return {
    ascending: up,
    descending: down,
    overlap_T: overlap,
    ...statistics(differences),
    coerciveField_T: coerciveField(curve, a, b),
    remanence: remanentValue(curve, a, b),
  };
}

interface Difference {
  readonly value: number;
  /** From sigma; NaN without. Neighbours may share an interpolation end, which is neglected. */
  readonly variance: number;
}

function statistics(differences: readonly Difference[]) {
  const n = differences.length;
  const mean = differences.reduce((sum, { value }) => sum + value, 0) / n;
  const hasSigma = differences.every(({ variance }) => variance > 0);
  const variance = hasSigma
    ? differences.reduce((sum, each) => sum + each.variance, 0) / n ** 2
    : successiveVariance(differences) / n;
  const standardUncertainty = Math.sqrt(variance);
  const t = Math.abs(mean) / standardUncertainty;
  const pValue = standardUncertainty > 0 ? 2 * studentTCdf(-t, hasSigma ? 1e6 : (2 * n) / 3) : mean === 0 ? 1 : 0;
  const chiSquared = hasSigma
    ? differences.reduce((sum, each) => sum + each.value ** 2 / each.variance, 0)
    : Number.NaN;
  return { pairs: n, meanDifference: mean, standardUncertainty, chiSquared, pValue, differ: pValue < differLevel };
}

/** Half the mean square of successive differences: the scatter that is left when a smooth course is not counted. */
function successiveVariance(differences: readonly Difference[]): number {
  let sum = 0;
  for (let i = 1; i < differences.length; i++) sum += (differences[i].value - differences[i - 1].value) ** 2;
  return sum / (2 * (differences.length - 1));
}

/** The other branch minus each row, at the row's field; both in order of field. Sign set by the caller. */
function differencesAt(
  { field_T, magnetisation, sigma }: MagnetisationCurve,
  pairs: readonly number[],
  other: readonly number[],
): Difference[] {
  let k = 1;
  return pairs.map((i) => {
    while (k < other.length - 1 && field_T[other[k]] < field_T[i]) k++;
    const [p, q] = [other[k - 1], other[k]];
    const gap = field_T[q] - field_T[p];
    const share = gap > 0 ? (field_T[i] - field_T[p]) / gap : 0;
    const variance = sigma ? sigma[i] ** 2 + ((1 - share) * sigma[p]) ** 2 + (share * sigma[q]) ** 2 : Number.NaN;
    const interpolated = (1 - share) * magnetisation[p] + share * magnetisation[q];
    return { variance, value: interpolated - magnetisation[i] };
  });
}

function longest(parts: readonly BranchRows[]): readonly number[] | undefined {
  return parts.reduce<readonly number[] | undefined>(
    (best, { rows }) => (best === undefined || rows.length > best.length ? rows : best),
    undefined,
  );
}

/** Rows in order of field. */
function sorted({ field_T }: MagnetisationCurve, rows: readonly number[]): number[] {
  return [...rows].sort((i, j) => field_T[i] - field_T[j]);
}

function overlapOf(field_T: Float64Array, a: readonly number[], b: readonly number[]): [number, number] {
  const ends = [a, b].map((rows) => rows.map((i) => field_T[i]));
  const low = Math.max(...ends.map((fields) => fields.reduce((x, y) => Math.min(x, y), Infinity)));
  const high = Math.min(...ends.map((fields) => fields.reduce((x, y) => Math.max(x, y), -Infinity)));
  return [low, high];
}
