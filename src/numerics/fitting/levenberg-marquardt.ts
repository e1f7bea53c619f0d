import { FerruleError } from "../../errors.js";
import type { FitOutcome, FitState } from "./fit-state.js";
import { type LocalModel, localModel } from "./local-model.js";
import { numericJacobian, typicalSizes } from "./numeric-jacobian.js";
import type { PreparedProblem } from "./problem.js";

export interface FitEnd extends FitState {
  /** ∂predicted/∂parameter/sigma at the end, row-major, [n, p]. */
  readonly jacobian: Float64Array;
  readonly iterations: number;
  readonly outcome: FitOutcome;
  readonly reason: string;
}

/**
 * Levenberg-Marquardt minimisation of χ² inside a box.
 *   minimise Σ ((y_i − f_i(p))/σ_i)²;  step: min ‖A·q − r‖² + λ‖q‖² inside the box, A = weighted Jacobian with its
 *   columns scaled to unit length, Δp_j = q_j/scale_j
 * Bounds by an active set: a parameter at a bound with χ² falling outwards is held; the damped step of the others is
 * solved exactly inside their box. Damping follows the gain ratio (Nielsen's rule).
 * Ends when the part of the residual that free directions could still remove is below `orthogonality` of it:
 * a displacement of about orthogonality·√dof standard deviations.
 *
 * Source      Moré, LNM 630:105 (1978) (column scaling); Madsen, Nielsen & Tingleff, Methods for Non-Linear Least
 *             Squares Problems (2004), alg. 3.16 (damping); from memory. Box step: derived.
 * Checked by  checks/least-squares (scipy)
 */
export function minimise(
  problem: PreparedProblem,
  { maxIterations, orthogonality, degeneracy }: { maxIterations: number; orthogonality: number; degeneracy: number },
): FitEnd {
  let state = startState(problem);
  const typical = typicalSizes(problem, state.predicted);
  const scale = new Float64Array(state.parameters.length);
  let jacobian = weightedJacobian(problem, state, typical);
  let lambda = 1e-3;
  let raise = 2;
  const end = (iterations: number, outcome: FitOutcome, reason: string): FitEnd => ({
    ...state,
    jacobian,
    iterations,
    outcome,
    reason,
  });
  for (let iteration = 0; iteration < maxIterations; iteration++) {
    growScale(scale, jacobian);
    const local = localModel(problem, state, { jacobian, scale, degeneracy });
    if (local.removable <= orthogonality * Math.sqrt(state.chiSquared))
      return end(iteration, "converged", "residual orthogonal to every free direction");
    if (Math.sqrt(state.chiSquared) <= 4 * Number.EPSILON * local.dataNorm)
      return end(iteration, "converged", "model equals the data to rounding");
    for (;;) {
      const { target, predictedGain } = local.step(lambda);
      const trial = evaluate(problem, target);
      const gain = trial === undefined ? -1 : (state.chiSquared - trial.chiSquared) / predictedGain;
      if (trial !== undefined && predictedGain > 0 && gain > 1e-4) {
        lambda = Math.max(1e-15, lambda * Math.max(1 / 3, 1 - (2 * gain - 1) ** 3));
        raise = 2;
        state = trial;
        break;
      }
      if (lambda > 1e16 || isBelowRounding(state, target)) return end(iteration, ...stalled(local, state));
      lambda = Math.max(lambda, 1e-12) * raise;
      raise *= 2;
    }
    jacobian = weightedJacobian(problem, state, typical);
  }
  return end(maxIterations, "iteration-limit", `not converged after ${maxIterations} iterations`);
}

/** No step lowers χ² any further: either the minimum to rounding, or a model that is not smooth (or derivatives that are wrong). */
function stalled(local: LocalModel, { chiSquared }: FitState): readonly [FitOutcome, string] {
  const share = local.removable / Math.sqrt(chiSquared);
  // 1e-4: difference derivatives (1e-10) of a problem of condition 1e5 leave that much; it is 1e-4·√dof standard
  // deviations. A wrong derivative or a kink leaves far more.
  const settled = share <= 1e-4 || Math.sqrt(chiSquared) <= 1e-12 * local.dataNorm;
  if (settled) return ["converged", "χ² cannot be lowered further within rounding"];
  return [
    "diverged",
    `no step lowers χ² although the derivatives promise ${(100 * share).toPrecision(2)} % of the residual`,
  ];
}

function startState(problem: PreparedProblem): FitState {
  const state = evaluate(problem, problem.start);
  if (state !== undefined) return state;
  throw new FerruleError("InvalidValue", {
    path: "start",
    found: `a model that is not finite at ${problem.names.map((name, j) => `${name} = ${problem.start[j]}`).join(", ")}`,
    accepted: "a start at which every predicted value is a finite number",
  });
}

function evaluate({ model, observed, sigma }: PreparedProblem, parameters: Float64Array): FitState | undefined {
  const predicted = Float64Array.from(model(Float64Array.from(parameters), new Float64Array(observed.length)));
  if (predicted.length !== observed.length)
    throw new FerruleError("ShapeMismatch", {
      path: "model",
      found: `${predicted.length} predicted values`,
      accepted: `${observed.length} values, one for each observed value`,
    });
  const residuals = observed.map((y, i) => (y - predicted[i]) / sigma[i]);
  const chiSquared = residuals.reduce((sum, r) => sum + r * r, 0);
  return Number.isFinite(chiSquared) ? { parameters, predicted, residuals, chiSquared } : undefined;
}

function weightedJacobian(problem: PreparedProblem, state: FitState, typical: Float64Array): Float64Array {
  const { parameters, predicted } = state;
  const p = parameters.length;
  const out = new Float64Array(predicted.length * p);
  if (problem.jacobian) problem.jacobian(Float64Array.from(parameters), out);
  else numericJacobian(problem, parameters, { typical, predicted, out });
  for (let k = 0; k < out.length; k++) {
    out[k] = out[k] / problem.sigma[Math.floor(k / p)];
    if (Number.isFinite(out[k])) continue;
    throw new FerruleError("InvalidValue", {
      path: `derivative with respect to ${problem.names[k % p]}`,
      found: `a derivative that is not finite at ${problem.names[k % p]} = ${parameters[k % p]}`,
      accepted: "a model with finite derivatives inside its bounds; narrow the bounds",
    });
  }
  return out;
}

/** Column lengths, never shrinking: a column that fades on the way must not let its parameter run away (Moré). */
function growScale(scale: Float64Array, jacobian: Float64Array): void {
  const p = scale.length;
  for (let j = 0; j < p; j++) {
    let sum = 0;
    for (let k = j; k < jacobian.length; k += p) sum += jacobian[k] ** 2;
    scale[j] = Math.max(scale[j], Math.sqrt(sum));
  }
}

function isBelowRounding({ parameters }: FitState, target: Float64Array): boolean {
  return target.every((value, j) => Math.abs(value - parameters[j]) <= 2 * Number.EPSILON * Math.abs(parameters[j]));
}
