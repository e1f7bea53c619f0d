import type { PreparedProblem } from "./problem.js";

/** Central differences balance truncation (h²) against rounding (eps/h) at eps^(1/3) of a parameter's size. */
const relativeStep = Math.cbrt(Number.EPSILON);

/**
 * Derivatives of a model by differences.
 *   ∂f/∂p ≈ (f(p+h) − f(p−h)) / 2h,   h = eps^(1/3)·max(|p|, typical)
 * One-sided and still of second order, (−3f(p) + 4f(p+h) − f(p+2h)) / 2h, where a bound leaves no room on one side.
 * A parameter whose two bounds coincide gets a column of zeros.
 *
 * @param problem  model and bounds
 * @param parameters  [p]
 * @param options.typical  size of each parameter, [p], all above 0
 * @param options.predicted  model at `parameters`, [n]
 * @param options.out  row-major, [n, p]
 *
 * Valid for   models smooth on the scale of h; relative error about 1e-10 of a column.
 * Source      Press et al., Numerical Recipes, ch. 5.7 (step size); common practice.
 * Checked by  numeric-jacobian.test.ts, checks/least-squares
 */
export function numericJacobian(
  problem: Pick<PreparedProblem, "model" | "lower" | "upper">,
  parameters: Float64Array,
  { typical, predicted, out }: { typical: Float64Array; predicted: ArrayLike<number>; out: Float64Array },
): Float64Array {
  const p = parameters.length;
  const n = predicted.length;
  const work = [new Float64Array(n), new Float64Array(n)] as const;
  for (let j = 0; j < p; j++) {
    const step = stepFor(problem, parameters, { j, size: typical[j] });
    const at = (offset: number, into: Float64Array) => shifted(problem, parameters, { j, offset, into });
    if (step.size === 0) for (let i = 0; i < n; i++) out[i * p + j] = 0;
    else if (step.side === 0) {
      const [plus, h1] = at(step.size, work[0]);
      const [minus, h2] = at(-step.size, work[1]);
      for (let i = 0; i < n; i++) out[i * p + j] = (plus[i] - minus[i]) / (h1 - h2);
    } else {
      const [near, h1] = at(step.side * step.size, work[0]);
      const [far, h2] = at(2 * step.side * step.size, work[1]);
      // Second-order formula for the steps that were really taken (h2 is 2·h1 only up to rounding).
      const a = h2 / (h1 * (h2 - h1));
      const b = -h1 / (h2 * (h2 - h1));
      for (let i = 0; i < n; i++) out[i * p + j] = a * (near[i] - predicted[i]) + b * (far[i] - predicted[i]);
    }
  }
  return out;
}

type Bounded = Pick<PreparedProblem, "model" | "lower" | "upper">;

function stepFor({ lower, upper }: Bounded, parameters: Float64Array, { j, size }: { j: number; size: number }) {
  const value = parameters[j];
  const wanted = relativeStep * Math.max(Math.abs(value), size);
  const below = value - lower[j];
  const above = upper[j] - value;
  if (Math.min(below, above) >= wanted) return { side: 0, size: wanted };
  const side = above >= below ? 1 : -1;
  return { side, size: Math.min(wanted, Math.max(above, below) / 2) };
}

/** The model with one parameter moved, and the offset that the rounded parameter really has. */
function shifted(
  { model }: Bounded,
  parameters: Float64Array,
  { j, offset, into }: { j: number; offset: number; into: Float64Array },
): readonly [ArrayLike<number>, number] {
  const moved = Float64Array.from(parameters);
  moved[j] = parameters[j] + offset;
  return [model(moved, into), moved[j] - parameters[j]];
}

/**
 * Size of each parameter for the difference step: given, else |start|, else found by trying: the size at which the
 * model moves by between 1e-6 and 1 of its own norm. A parameter without any effect keeps the size 1.
 */
export function typicalSizes(problem: PreparedProblem, predicted: ArrayLike<number>): Float64Array {
  const { start, typical, lower, upper } = problem;
  return start.map((value, j) => {
    if (typical !== undefined) return typical[j];
    if (value !== 0) return Math.abs(value);
    const room = Math.max(upper[j] - value, value - lower[j]);
    return Number.isFinite(room) ? room : probedSize(problem, predicted, j);
  });
}

function probedSize(problem: PreparedProblem, predicted: ArrayLike<number>, j: number): number {
  const scale = norm(predicted, (i) => predicted[i]) || norm(problem.observed, (i) => problem.observed[i]);
  let size = 1;
  for (let attempt = 0; attempt < 60; attempt++) {
    const sign = problem.upper[j] >= size ? 1 : -1;
    const moved = Array.from(
      shifted(problem, problem.start, { j, offset: sign * size, into: new Float64Array(predicted.length) })[0],
    );
    const ratio = norm(predicted, (i) => moved[i] - predicted[i]) / scale;
    if (!Number.isFinite(ratio) || ratio > 1) size /= 100;
    else if (ratio === 0 && size >= 1e30) return 1;
    else if (ratio < 1e-6) size *= 100;
    else return size;
  }
  return 1;
}

function norm(like: ArrayLike<number>, value: (i: number) => number): number {
  let sum = 0;
  for (let i = 0; i < like.length; i++) sum += value(i) ** 2;
  return Math.sqrt(sum);
}
