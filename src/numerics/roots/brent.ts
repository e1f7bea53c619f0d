import { FerruleError } from "../../errors.js";

export interface RootResult {
  readonly root: number;
  /** f at the root. */
  readonly residual: number;
  /** The root lies between these. */
  readonly bracket: readonly [number, number];
  readonly evaluations: number;
  readonly outcome: "converged" | "iteration-limit";
}

/**
 * Root of a continuous function between two points where its signs differ.
 * Inverse quadratic interpolation or the secant where they help, bisection where they do not.
 *
 * @param f  continuous on [a, b]
 * @param bracket  [a, b] with f(a)·f(b) <= 0
 * @param options.absolute  accepted half-width of the bracket, in the units of x
 * @param options.relative  accepted half-width as a share of |root|
 *
 * Valid for   any continuous f; a sign change through a pole is taken for a root: look at `residual`.
 * Source      Brent, Algorithms for Minimization without Derivatives (1973), ch. 4 (zeroin); from memory.
 * Checked by  brent.test.ts (closed forms)
 */
export function findRoot(
  f: (x: number) => number,
  [start, end]: readonly [number, number],
  {
    absolute = 0,
    relative = 2 * Number.EPSILON,
    maxEvaluations = 200,
  }: { absolute?: number; relative?: number; maxEvaluations?: number } = {},
): RootResult {
  let [a, b] = [start, end];
  let [fa, fb] = [f(a), f(b)];
  requireSignChange([a, b], [fa, fb]);
  // b: best so far; a: the one before; c: opposite sign to b.
  let [c, fc] = [a, fa];
  let step = b - a;
  let before = step;
  let evaluations = 2;
  for (;;) {
    if (fb > 0 === fc > 0) {
      [c, fc] = [a, fa];
      step = b - a;
      before = step;
    }
    if (Math.abs(fc) < Math.abs(fb)) {
      [a, fa, b, fb, c, fc] = [b, fb, c, fc, b, fb];
    }
    const tolerance = relative * Math.abs(b) + absolute;
    const half = (c - b) / 2;
    const isDone = Math.abs(half) <= tolerance || fb === 0;
    if (isDone || evaluations >= maxEvaluations) {
      const bracket = [Math.min(b, c), Math.max(b, c)] as const;
      return { root: b, residual: fb, bracket, evaluations, outcome: isDone ? "converged" : "iteration-limit" };
    }
    const trial =
      Math.abs(before) < tolerance || Math.abs(fa) <= Math.abs(fb) ? undefined : interpolated([a, b, c], [fa, fb, fc]);
    const accepted =
      trial !== undefined &&
      Math.sign(trial) === Math.sign(half) &&
      Math.abs(trial) < Math.min(1.5 * Math.abs(half) - Math.abs(tolerance) / 2, Math.abs(before) / 2);
    before = accepted ? step : half;
    step = accepted ? trial : half;
    [a, fa] = [b, fb];
    b += Math.abs(step) > tolerance ? step : Math.sign(half) * tolerance;
    if (b === a) b = c; // the tolerance is below one rounding of b: the bracket's other end is the next number
    fb = f(b);
    requireNumber(b, fb);
    evaluations++;
  }
}

/** Step from b by inverse quadratic interpolation through three points, or the secant when two coincide. */
function interpolated([a, b, c]: readonly number[], [fa, fb, fc]: readonly number[]): number {
  const s = fb! / fa!;
  if (a === c) return ((c! - b!) * s) / (s - 1);
  const q = fa! / fc!;
  const r = fb! / fc!;
  const p = s * ((c! - b!) * q * (q - r) - (b! - a!) * (r - 1));
  return -p / ((q - 1) * (r - 1) * (s - 1)) || 0;
}

function requireSignChange([a, b]: readonly [number, number], [fa, fb]: readonly [number, number]): void {
  requireNumber(a, fa);
  requireNumber(b, fb);
  if (fa === 0 || fb === 0 || fa > 0 !== fb > 0) return;
  throw new FerruleError("InvalidValue", {
    path: "bracket",
    found: `the same sign at both ends: f(${a}) = ${fa}, f(${b}) = ${fb}`,
    accepted: "two points where the function has different signs, e.g. from bracketRoot",
  });
}

function requireNumber(x: number, value: number): void {
  if (!Number.isNaN(value) && Number.isFinite(x)) return;
  throw new FerruleError("InvalidValue", {
    path: "f",
    found: `f(${x}) = ${value}`,
    accepted: "a finite point and a function value that is a number",
  });
}
