import { FerruleError } from "../../errors.js";
import { type LinearOperator, requireFits } from "./operator.js";

/**
 * The left-hand side of the (weighted, damped) normal equations, as a plain function for a solver.
 *   x ↦ Aᵀ·W·A·x + δ·x
 * Its solution of (Aᵀ W A + δ) x = Aᵀ W y minimises Σ w·(A x − y)² + δ·‖x‖².
 *
 * @param options.weights  W's diagonal, [size of range], usually 1/σ²; none: 1
 * @param options.damping  δ >= 0
 */
export function normal(
  a: LinearOperator,
  { weights, damping = 0 }: { weights?: Float64Array; damping?: number } = {},
): (x: Float64Array, out?: Float64Array) => Float64Array {
  if (weights) requireFits(weights, a.range, "weights");
  if (!(damping >= 0 && Number.isFinite(damping)))
    throw new FerruleError("InvalidValue", {
      path: "damping",
      found: String(damping),
      accepted: "a finite number, 0 or more, e.g. 1e-3",
    });
  return (x, out) => {
    const y = a.forward(x);
    if (weights) for (let i = 0; i < y.length; i++) y[i] = weights[i] * y[i];
    const result = a.adjoint(y, out);
    if (damping > 0) for (let i = 0; i < result.length; i++) result[i] = result[i] + damping * x[i];
    return result;
  };
}
