import type { MagnetisationCurve } from "./curve.js";

/** A value with its standard uncertainty from sigma; NaN where no sigma is stated. */
export interface Measured {
  readonly value: number;
  readonly standardUncertainty: number;
}

/**
 * Coercive field: half the distance between the zero crossings of the two branches, T.
 *   B_c = (B_0,ascending - B_0,descending) / 2, each by a straight line between the rows on either side of zero
 * Negative where the branches are crossed (an inverted loop: usually the order of acquisition was lost).
 *
 * @param up, down  rows of each branch in order of field
 * @returns `undefined` where a branch does not cross zero
 */
export function coerciveField(
  curve: MagnetisationCurve,
  up: readonly number[],
  down: readonly number[],
): Measured | undefined {
  const [a, b] = [up, down].map((rows) => crossing(rows, { along: curve.magnetisation, value: curve.field_T, curve }));
  return halfDifference(a, b);
}

/** Remanence: half the distance between the branches at zero field, unit of the curve. */
export function remanentValue(
  curve: MagnetisationCurve,
  up: readonly number[],
  down: readonly number[],
): Measured | undefined {
  const [a, b] = [up, down].map((rows) => crossing(rows, { along: curve.field_T, value: curve.magnetisation, curve }));
  return halfDifference(b, a);
}

function halfDifference(a: Measured | undefined, b: Measured | undefined): Measured | undefined {
  if (a === undefined || b === undefined) return undefined;
  return {
    value: (a.value - b.value) / 2,
    standardUncertainty: Math.hypot(a.standardUncertainty, b.standardUncertainty) / 2,
  };
}

interface Crossing {
  /** What crosses zero. */
  readonly along: Float64Array;
  /** What is read there. */
  readonly value: Float64Array;
  readonly curve: MagnetisationCurve;
}

/** First place where `along` changes sign between neighbours; the noise is that of the magnetisation in either role. */
function crossing(rows: readonly number[], { along, value, curve }: Crossing): Measured | undefined {
  for (let k = 1; k < rows.length; k++) {
    const [p, q] = [rows[k - 1], rows[k]];
    if (!(along[p] <= 0 && along[q] >= 0) || along[p] === along[q]) continue;
    const share = -along[p] / (along[q] - along[p]);
    const noise = curve.sigma ? Math.hypot((1 - share) * curve.sigma[p], share * curve.sigma[q]) : Number.NaN;
    const isField = value === curve.field_T;
    const slope = isField ? (value[q] - value[p]) / (along[q] - along[p]) : 1;
    return { value: (1 - share) * value[p] + share * value[q], standardUncertainty: noise * Math.abs(slope) };
  }
  return undefined;
}
