/**
 * LU factors of a banded matrix with partial pivoting. The matrix has b diagonals on each side; pivoting widens the upper
 * part to 2b. Row-major: entry (i, j) of the matrix stands at [i, j - i + b], rows of 3b + 1.
 */
export interface BandedLu {
  readonly size: number;
  readonly halfBand: number;
  /** On entry the matrix in columns 0 to 2b (the rest zero), after `factorBand` the factors, shape [n, 3b + 1]. */
  readonly band: Float64Array;
  /** Row taken as pivot in each column, [n]. */
  readonly pivot: Int32Array;
}

export function bandedLu(size: number, halfBand: number): BandedLu {
  return {
    size,
    halfBand,
    band: new Float64Array(size * (3 * halfBand + 1)),
    pivot: new Int32Array(size),
  };
}

/**
 * Factors in place.
 *
 * Valid for   matrices that are not singular; between 2 n b^2 and 4 n b^2 operations, as the pivots fall
 * Source      textbook band elimination; common practice
 * Checked by  banded-lu.test.ts (against a dense solver)
 */
export function factorBand({ size, halfBand: b, band, pivot }: BandedLu): void {
  const width = 3 * b + 1;
  // Last column that the pivots so far have filled: without an exchange the upper part stays b wide.
  let right = 0;
  for (let k = 0; k < size; k++) {
    const bottom = Math.min(size - 1, k + b);
    let best = k;
    for (let i = k + 1; i <= bottom; i++)
      if (Math.abs(band[i * width + k - i + b]) > Math.abs(band[best * width + k - best + b])) best = i;
    pivot[k] = best;
    right = Math.max(right, Math.min(size - 1, best + b));
    // Entry (k, j) of a row i stands at i*width + j - i + b: rows are shifted against each other by width - 1.
    const own = k * width + b - k;
    const other = best * width + b - best;
    if (best !== k)
      for (let j = k; j <= right; j++) {
        const held = band[own + j];
        band[own + j] = band[other + j];
        band[other + j] = held;
      }
    const inverse = 1 / band[own + k];
    for (let i = k + 1; i <= bottom; i++) {
      const row = i * width + b - i;
      const factor = band[row + k] * inverse;
      band[row + k] = factor;
      if (factor === 0) continue;
      for (let j = k + 1; j <= right; j++) band[row + j] -= factor * band[own + j];
    }
  }
}

/** Solves in place: x holds the right side, then the solution, [n]. */
export function solveBand({ size, halfBand: b, band, pivot }: BandedLu, x: Float64Array): void {
  const width = 3 * b + 1;
  for (let k = 0; k < size; k++) {
    const best = pivot[k];
    const held = x[best];
    x[best] = x[k];
    x[k] = held;
    const bottom = Math.min(size - 1, k + b);
    for (let i = k + 1; i <= bottom; i++) x[i] -= band[i * width + k - i + b] * held;
  }
  for (let k = size - 1; k >= 0; k--) {
    const right = Math.min(size - 1, k + 2 * b);
    const own = k * width + b - k;
    let sum = x[k];
    for (let j = k + 1; j <= right; j++) sum -= band[own + j] * x[j];
    x[k] = sum / band[own + k];
  }
}
