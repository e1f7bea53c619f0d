import { minimiseInBox } from "../linear/box-quadratic.js";
import { triangularise } from "../linear/householder.js";
import { jacobiSvd } from "../linear/jacobi-svd.js";
import type { FitState } from "./fit-state.js";
import type { PreparedProblem } from "./problem.js";

export interface LocalModel {
  /** Length of the part of the residual that the free directions could remove. */
  readonly removable: number;
  readonly dataNorm: number;
  /** End point of the step with this damping, inside the box, and the fall of χ² that the linear model promises. */
  readonly step: (lambda: number) => { readonly target: Float64Array; readonly predictedGain: number };
}

/**
 * The fit as seen from one point: a linear least-squares problem in column-scaled parameters, reduced by QR and split
 * by its singular values, so that a step for any damping costs a few multiplications.
 *
 * @param options.jacobian  weighted by 1/sigma, row-major, [n, p]
 * @param options.scale  length given to each column, [p]
 * @param options.degeneracy  share of the largest singular value below which a direction is left out of `removable`
 */
export function localModel(
  { lower, upper, observed, sigma }: PreparedProblem,
  { parameters, residuals }: FitState,
  { jacobian, scale, degeneracy }: { jacobian: Float64Array; scale: Float64Array; degeneracy: number },
): LocalModel {
  const p = parameters.length;
  const n = residuals.length;
  const free = freeParameters({ lower, upper }, parameters, { jacobian, residuals, scale });
  const a = new Float64Array(n * free.length);
  for (let i = 0; i < n; i++)
    free.forEach((j, c) => {
      a[i * free.length + c] = jacobian[i * p + j] / scale[j];
    });
  const c = Float64Array.from(residuals);
  const r = triangularise(a, c, free.length);
  const { u, s, v } = jacobiSvd(r, [free.length, free.length]);
  const k = free.length;
  const projections = s.map((_, i) => sumOver(k, (row) => u[row * k + i] * c[row]));
  const determined = (i: number) => s[i] > degeneracy * s[0];
  return {
    removable: Math.sqrt(sumOver(k, (i) => (determined(i) ? projections[i] ** 2 : 0))),
    dataNorm: Math.sqrt(sumOver(n, (i) => (observed[i] / sigma[i]) ** 2)),
    step: (lambda) => {
      const shrunk = projections.map((value, i) => (s[i] * value) / (s[i] ** 2 + lambda));
      const inside = Float64Array.from(free, (_, row) => sumOver(k, (i) => v[row * k + i] * shrunk[i]));
      const box = {
        lower: Float64Array.from(free, (j) => (lower[j] - parameters[j]) * scale[j]),
        upper: Float64Array.from(free, (j) => (upper[j] - parameters[j]) * scale[j]),
      };
      const fits = inside.every((value, i) => value >= box.lower[i] && value <= box.upper[i]);
      const q = fits ? inside : minimiseInBox(dampedNormal(r, k, lambda), transposeTimes(r, c, k), box);
      const target = Float64Array.from(parameters);
      free.forEach((j, i) => {
        // A component on its bound lands on it exactly: value + q/scale could miss it by a rounding.
        if (q[i] === box.lower[i]) target[j] = lower[j];
        else if (q[i] === box.upper[i]) target[j] = upper[j];
        else target[j] = Math.min(upper[j], Math.max(lower[j], parameters[j] + q[i] / scale[j]));
      });
      return { target, predictedGain: gainOf(r, c, q) };
    },
  };
}

/** Parameters that may move: not held by equal bounds, with some influence, not pushed outwards at a bound. */
function freeParameters(
  { lower, upper }: { lower: Float64Array; upper: Float64Array },
  parameters: Float64Array,
  { jacobian, residuals, scale }: { jacobian: Float64Array; residuals: Float64Array; scale: Float64Array },
): number[] {
  const p = parameters.length;
  return Array.from(parameters.keys()).filter((j) => {
    if (lower[j] === upper[j] || scale[j] === 0) return false;
    const downhill = sumOver(residuals.length, (i) => jacobian[i * p + j] * residuals[i]);
    if (parameters[j] === lower[j]) return downhill > 0;
    if (parameters[j] === upper[j]) return downhill < 0;
    return true;
  });
}

function dampedNormal(r: Float64Array, k: number, lambda: number): Float64Array {
  const h = new Float64Array(k * k);
  for (let i = 0; i < k; i++)
    for (let j = 0; j < k; j++)
      h[i * k + j] = sumOver(k, (row) => r[row * k + i] * r[row * k + j]) + (i === j ? lambda : 0);
  return h;
}

function transposeTimes(r: Float64Array, c: Float64Array, k: number): Float64Array {
  return Float64Array.from({ length: k }, (_, j) => sumOver(k, (row) => r[row * k + j] * c[row]));
}

/** Fall of χ² that the linear model promises: ‖c‖² − ‖c − R·q‖² = Σ Rq·(2c − Rq). */
function gainOf(r: Float64Array, c: Float64Array, q: Float64Array): number {
  const k = q.length;
  return sumOver(k, (i) => {
    const rq = sumOver(k, (j) => r[i * k + j] * q[j]);
    return rq * (2 * c[i] - rq);
  });
}

function sumOver(count: number, term: (i: number) => number): number {
  let sum = 0;
  for (let i = 0; i < count; i++) sum += term(i);
  return sum;
}
