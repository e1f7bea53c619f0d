/**
 * A linear equation of motion that a field drives through one number.
 *   dc/dt = (A0 + xi(t) A1) c + g0 + xi(t) g1,  c of size n, matrices banded
 */
export interface LinearMotion {
  readonly size: number;
  /** Diagonals on each side, b. */
  readonly halfBand: number;
  /** A0 and A1, row-major by band: entry (i, j) at [i, j - i + b], shape [n, 2b + 1]. */
  readonly a0: Float64Array;
  readonly a1: Float64Array;
  readonly g0: Float64Array;
  readonly g1: Float64Array;
  /** What is observed: sum of observed[i] c[i]. */
  readonly observed: Float64Array;
  /** Sign that each coefficient takes when every direction is reversed, [n]. */
  readonly parity: Float64Array;
  /** Indices of the last coefficients kept: they must stay small. */
  readonly edge: readonly number[];
}

/** out = (A0 + xi A1) c + g0 + xi g1, and, beside it, slope = A1 c + g1. */
export function motionRate(
  motion: LinearMotion,
  c: Float64Array,
  { xi, out, slope }: { xi: number; out: Float64Array; slope: Float64Array },
): void {
  const { size, halfBand: b, a0, a1, g0, g1 } = motion;
  const width = 2 * b + 1;
  for (let i = 0; i < size; i++) {
    const from = Math.max(0, i - b);
    const to = Math.min(size - 1, i + b);
    const row = i * width + b - i;
    let still = g0[i];
    let driven = g1[i];
    for (let j = from; j <= to; j++) {
      still += a0[row + j] * c[j];
      driven += a1[row + j] * c[j];
    }
    out[i] = still + xi * driven;
    slope[i] = driven;
  }
}
