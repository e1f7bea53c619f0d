/** One period that was computed: where it started and where it ended, [n] each. */
export interface Round {
  readonly start: Float64Array;
  readonly end: Float64Array;
}

/** As many slow modes can be closed at once; older rounds are left out. */
const longestHistory = 16;

/** A difference of rounds: of their starts, and of their mismatches F(x) - x. */
interface Column {
  readonly dx: Float64Array;
  readonly dr: Float64Array;
}

/**
 * Proposes the state that one period of a linear motion maps onto itself, x = F(x) with F affine, from rounds of F.
 *   x_next = F(x) - (dX + dR) g,  g = argmin |r - dR g|,  r = F(x) - x, columns of dX and dR: differences of the rounds
 * The next start is the combination of earlier ends whose mismatches cancel best (Anderson mixing; for an affine F it
 * does what GMRES does). A short relaxation time needs two rounds; where it is long against the period, m slow modes need
 * about m + 2 rounds instead of thirty relaxation times.
 *
 * @param rounds  oldest first, at least one; the last is the one to improve on
 * @returns the next start, [n]
 *
 * Source      D. G. Anderson, J. ACM 12:547 (1965); Walker & Ni, SIAM J. Numer. Anal. 49:1715 (2011); from memory
 * Checked by  periodic-closure.test.ts (affine maps with known fixed point)
 */
export function nextStart(rounds: readonly Round[]): Float64Array {
  const recent = rounds.slice(-longestHistory - 1);
  const mismatches = recent.map(({ start, end }) => difference(end, start));
  const last = recent.length - 1;
  const next = Float64Array.from(recent[last].end);
  const rest = Float64Array.from(mismatches[last]);
  const basis: Column[] = [];
  // Newest differences first: where two columns say the same, the newer one stays.
  for (let k = last - 1; k >= 0; k--) {
    const dx = difference(recent[k + 1].start, recent[k].start);
    const column = orthonormal({ dx, dr: difference(mismatches[k + 1], mismatches[k]) }, basis);
    if (column === undefined) continue;
    basis.push(column);
    const share = dot(column.dr, rest);
    subtract(rest, share, column.dr);
    subtract(next, share, column.dr);
    subtract(next, share, column.dx);
  }
  return next;
}

/** A pair made orthonormal in its mismatch difference (Gram-Schmidt, twice), or nothing where it adds nothing. */
function orthonormal({ dx, dr }: Column, basis: readonly Column[]): Column | undefined {
  const before = Math.sqrt(dot(dr, dr));
  for (let pass = 0; pass < 2; pass++)
    for (const other of basis) {
      const share = dot(other.dr, dr);
      subtract(dr, share, other.dr);
      subtract(dx, share, other.dx);
    }
  const norm = Math.sqrt(dot(dr, dr));
  // Below this the direction is rounding, not motion.
  if (!(norm > 1e-9 * before)) return undefined;
  return { dx: dx.map((value) => value / norm), dr: dr.map((value) => value / norm) };
}

function subtract(from: Float64Array, share: number, column: Float64Array): void {
  for (let i = 0; i < from.length; i++) from[i] -= share * column[i];
}

function difference(a: Float64Array, b: Float64Array): Float64Array {
  return a.map((value, i) => value - b[i]);
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
}

/** Largest |a - b|; NaN where any of them is. */
export function largestDifference(a: Float64Array, b: Float64Array): number {
  let largest = 0;
  for (let i = 0; i < a.length; i++) {
    const size = Math.abs(a[i] - b[i]);
    if (Number.isNaN(size)) return size;
    if (size > largest) largest = size;
  }
  return largest;
}
