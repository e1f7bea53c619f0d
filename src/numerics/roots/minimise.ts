import { FerruleError } from "../../errors.js";

export interface MinimumResult {
  readonly x: number;
  readonly value: number;
  readonly evaluations: number;
  readonly outcome: "converged" | "iteration-limit";
  /** The minimum sits within the tolerance of an end of the interval: the true one may lie outside. */
  readonly isAtEnd: boolean;
}

const golden = (3 - Math.sqrt(5)) / 2;

/**
 * Local minimum of a function on an interval, without derivatives: parabolas where they help, golden sections else.
 *
 * @param f  unimodal on the interval for a sure answer; otherwise one of its local minima is found
 * @param interval  [a, b]
 * @param options.relative  accepted half-width as a share of |x|; √eps is the best that function values can give
 * @param options.absolute  the same in units of x; default 1e-12 of the interval
 *
 * Source      Brent, Algorithms for Minimization without Derivatives (1973), ch. 5 (localmin); from memory.
 * Checked by  minimise.test.ts (closed forms)
 */
export function findMinimum(
  f: (x: number) => number,
  [start, end]: readonly [number, number],
  {
    relative = Math.sqrt(Number.EPSILON),
    absolute = 1e-12 * Math.abs(end - start),
    maxEvaluations = 200,
  }: { relative?: number; absolute?: number; maxEvaluations?: number } = {},
): MinimumResult {
  requireInterval([start, end]);
  let [low, high] = [Math.min(start, end), Math.max(start, end)];
  let x = low + golden * (high - low);
  let [w, v] = [x, x];
  let fx = f(x);
  let [fw, fv] = [fx, fx];
  let step = 0;
  let before = 0;
  for (let evaluations = 1; ; evaluations++) {
    const middle = (low + high) / 2;
    const tolerance = relative * Math.abs(x) + absolute;
    const isDone = Math.abs(x - middle) <= 2 * tolerance - (high - low) / 2;
    if (isDone || evaluations >= maxEvaluations) {
      const nearest = Math.min(Math.abs(x - start), Math.abs(x - end));
      const outcome = isDone ? "converged" : "iteration-limit";
      return { x, value: fx, evaluations, outcome, isAtEnd: nearest <= 3 * tolerance };
    }
    const trial = Math.abs(before) > tolerance ? parabolaStep([x, w, v], [fx, fw, fv]) : Number.NaN;
    const isGood = Math.abs(trial) < Math.abs(before) / 2 && x + trial > low && x + trial < high;
    if (isGood) {
      before = step;
      step = trial;
      // Not closer than the tolerance to an end, where nothing new would be learnt.
      if (x + step - low < 2 * tolerance || high - x - step < 2 * tolerance) step = x < middle ? tolerance : -tolerance;
    } else {
      before = x < middle ? high - x : low - x;
      step = golden * before;
    }
    const u = x + (Math.abs(step) >= tolerance ? step : step > 0 ? tolerance : -tolerance);
    const fu = f(u);
    if (fu <= fx) {
      if (u < x) high = x;
      else low = x;
      [v, fv, w, fw, x, fx] = [w, fw, x, fx, u, fu];
    } else {
      if (u < x) low = u;
      else high = u;
      if (fu <= fw || w === x) [v, fv, w, fw] = [w, fw, u, fu];
      else if (fu <= fv || v === x || v === w) [v, fv] = [u, fu];
    }
  }
}

/** Step from x to the vertex of the parabola through three points; NaN when they do not define one. */
function parabolaStep([x, w, v]: readonly number[], [fx, fw, fv]: readonly number[]): number {
  const r = (x! - w!) * (fx! - fv!);
  const q = (x! - v!) * (fx! - fw!);
  const p = (x! - v!) * q - (x! - w!) * r;
  return -p / (2 * (q - r));
}

function requireInterval([a, b]: readonly [number, number]): void {
  if (Number.isFinite(a) && Number.isFinite(b) && a !== b) return;
  throw new FerruleError("InvalidValue", {
    path: "interval",
    found: `${a} to ${b}`,
    accepted: "two different finite ends, e.g. 0 to 1",
  });
}
