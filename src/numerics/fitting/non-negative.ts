import { FerruleError } from "../../errors.js";
import { choleskyFactor, choleskySolve } from "../linear/cholesky.js";
import { triangularise } from "../linear/householder.js";

export interface NonNegativeResult {
  readonly solution: Float64Array;
  /** Components that are free of their bound, ascending. */
  readonly passive: readonly number[];
  readonly outcome: "converged" | "iteration-limit";
}

/** What the active set needs of a convex quadratic: its minimum on a few components, and its downhill direction. */
interface Quadratic {
  readonly size: number;
  /** Unconstrained minimum over these components, the others 0; `undefined` where it is not determined. */
  readonly minimum: (passive: readonly number[]) => Float64Array | undefined;
  /** Minus the gradient, [n]. */
  readonly downhill: (x: Float64Array) => Float64Array;
  /** A downhill component below this is rounding, [n]. */
  readonly tolerance: Float64Array;
}

/**
 * Non-negative least squares.
 *   minimise ||A x - b||^2  subject to  x >= 0
 * A is reduced by Householder reflections once; each active set is solved by another reduction of its columns, so that
 * accuracy follows cond(A) and not its square.
 *
 * @param a  row-major, shape [m, n], m >= n; left as it is
 * @param b  shape [m]
 * @param options.passive  components to start with (a warm start), e.g. those of a similar problem
 * @returns x, [n]: exactly 0 where the bound holds
 *
 * Valid for   up to some hundred unknowns. Where A has dependent columns the solution is one of many.
 * Source      Lawson & Hanson, Solving Least Squares Problems, ch. 23; from memory
 * Checked by  checks/tracer-fit (scipy.optimize.nnls)
 */
export function nonNegativeLeastSquares(
  a: Float64Array,
  b: Float64Array,
  { passive = [] }: { passive?: readonly number[] } = {},
): NonNegativeResult {
  const n = a.length / b.length;
  if (!Number.isInteger(n) || n < 1 || n > b.length)
    throw new FerruleError("ShapeMismatch", {
      path: "matrix",
      found: `${a.length} elements for ${b.length} rows`,
      accepted: "a row-major matrix with at least as many rows as columns, e.g. [4, 2] with 8 elements for 4 rows",
    });
  const c = Float64Array.from(b);
  const r = triangularise(Float64Array.from(a), c, n);
  const norms = columnNorms(r, n);
  const scale = Math.sqrt(b.reduce((sum, value) => sum + value * value, 0));
  return activeSet(
    {
      size: n,
      minimum: (set) => subsetSolution(r, c, { n, set }),
      downhill: (x) => {
        const residual = Float64Array.from({ length: n }, (_, i) => c[i] - sumOver(n, (j) => r[i * n + j] * x[j]));
        return Float64Array.from({ length: n }, (_, j) => sumOver(n, (i) => r[i * n + j] * residual[i]));
      },
      tolerance: norms.map((norm) => 1e-13 * norm * scale),
    },
    passive,
  );
}

/**
 * Minimum of a convex quadratic over non-negative variables.
 *   minimise x' H x / 2 - g' x  subject to  x >= 0
 * The form for many right-hand sides of one matrix (H = A'A, g = A'b): each active set costs one small Cholesky factor.
 *
 * @param h  symmetric positive definite, row-major, [n, n]
 * @param g  [n]
 * @param options.passive  components to start with
 *
 * Valid for   cond(H) up to about 1e12: digits are lost as cond(H) = cond(A)^2
 * Source      as `nonNegativeLeastSquares`; Bro & de Jong, J. Chemometrics 11:393 (1997), for the form; from memory
 * Checked by  checks/tracer-fit (scipy.optimize.nnls), non-negative.test.ts
 */
export function nonNegativeQuadratic(
  h: Float64Array,
  g: Float64Array,
  { passive = [] }: { passive?: readonly number[] } = {},
): NonNegativeResult {
  const n = g.length;
  if (h.length !== n * n)
    throw new FerruleError("ShapeMismatch", {
      path: "matrix",
      found: `${h.length} elements for ${n} unknowns`,
      accepted: `a square matrix, e.g. ${n * n} elements for ${n} unknowns`,
    });
  const largest = g.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  return activeSet(
    {
      size: n,
      minimum: (set) => {
        const k = set.length;
        const sub = new Float64Array(k * k);
        for (let i = 0; i < k; i++) for (let j = 0; j <= i; j++) sub[i * k + j] = h[set[i] * n + set[j]];
        const factor = choleskyFactor(sub, k);
        return (
          factor &&
          choleskySolve(
            factor,
            Float64Array.from(set, (j) => g[j]),
          )
        );
      },
      downhill: (x) => g.map((value, j) => value - sumOver(n, (k) => h[j * n + k] * x[k])),
      tolerance: new Float64Array(n).fill(1e-12 * largest),
    },
    passive,
  );
}

/**
 * Lawson and Hanson's loop: free the component that falls fastest, solve, walk back to the first bound that is crossed.
 * A warm start is made feasible the same way, from 0.
 */
function activeSet({ size, minimum, downhill, tolerance }: Quadratic, start: readonly number[]): NonNegativeResult {
  const x = new Float64Array(size);
  let passive = start.filter((j, i) => j >= 0 && j < size && start.indexOf(j) === i);
  if (passive.length > 0) passive = settle(x, passive, { minimum, isWarm: true });
  const refused = new Set<number>();
  for (let pass = 0; pass < 10 * size + 10; pass++) {
    const slope = downhill(x);
    let next = -1;
    for (let j = 0; j < size; j++) {
      if (passive.includes(j) || refused.has(j) || !(slope[j] > tolerance[j])) continue;
      if (next < 0 || slope[j] / tolerance[j] > slope[next] / tolerance[next]) next = j;
    }
    if (next < 0) return { solution: x, passive: [...passive].sort((a, b) => a - b), outcome: "converged" };
    const before = passive;
    passive = settle(x, [...passive, next], { minimum, isWarm: false });
    // Freed and at once bound again: rounding, or a column that depends on the others. Do not try it twice.
    if (passive.length === before.length && passive.every((j) => before.includes(j))) refused.add(next);
    else refused.clear();
  }
  return { solution: x, passive: [...passive].sort((a, b) => a - b), outcome: "iteration-limit" };
}

/** Moves x to the minimum over the passive set, giving up those components that meet 0 on the way. */
function settle(
  x: Float64Array,
  wanted: readonly number[],
  { minimum, isWarm }: { minimum: Quadratic["minimum"]; isWarm: boolean },
): number[] {
  let passive = [...wanted];
  while (passive.length > 0) {
    const target = minimum(passive);
    if (target === undefined) {
      // The newest column depends on the others (or all of a warm start do): leave it out.
      passive = isWarm ? [] : passive.slice(0, -1);
      if (isWarm) return passive;
      continue;
    }
    let step = 1;
    for (let k = 0; k < passive.length; k++) {
      if (target[k] > 0) continue;
      const here = x[passive[k]];
      step = Math.min(step, here > 0 ? here / (here - target[k]) : 0);
    }
    const crossed = (k: number) =>
      !(target[k] > 0) && (x[passive[k]] <= 0 || x[passive[k]] / (x[passive[k]] - target[k]) <= step);
    const leaving = new Set(passive.filter((_, k) => crossed(k)));
    passive.forEach((j, k) => {
      x[j] = leaving.has(j) ? 0 : step === 1 ? target[k] : Math.max(0, x[j] + step * (target[k] - x[j]));
    });
    if (leaving.size === 0) return passive;
    passive = passive.filter((j) => !leaving.has(j));
  }
  return passive;
}

/** Least squares on some columns of an upper-triangular system. */
function subsetSolution(
  r: Float64Array,
  c: Float64Array,
  { n, set }: { n: number; set: readonly number[] },
): Float64Array | undefined {
  const k = set.length;
  const columns = new Float64Array(n * k);
  for (let i = 0; i < n; i++) for (let j = 0; j < k; j++) columns[i * k + j] = r[i * n + set[j]];
  const norms = Float64Array.from(set, (j) => Math.sqrt(sumOver(n, (i) => r[i * n + j] ** 2)));
  const rhs = c.slice(0, n);
  const t = triangularise(columns, rhs, k);
  for (let j = 0; j < k; j++) if (!(Math.abs(t[j * k + j]) > 1e-13 * norms[j])) return undefined;
  const x = new Float64Array(k);
  for (let i = k - 1; i >= 0; i--) {
    let sum = rhs[i];
    for (let j = i + 1; j < k; j++) sum -= t[i * k + j] * x[j];
    x[i] = sum / t[i * k + i];
  }
  return x;
}

function columnNorms(r: Float64Array, n: number): Float64Array {
  return Float64Array.from({ length: n }, (_, j) => Math.sqrt(sumOver(n, (i) => r[i * n + j] ** 2)));
}

function sumOver(count: number, term: (i: number) => number): number {
  let sum = 0;
  for (let i = 0; i < count; i++) sum += term(i);
  return sum;
}
