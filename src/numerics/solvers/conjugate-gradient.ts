import { FerruleError } from "../../errors.js";
import type { SolverEnd, SolverStep } from "./solver.js";

/**
 * Conjugate gradients for a symmetric positive-definite system given as a function.
 *   N·x = b;  with a preconditioner P ≈ N⁻¹ the iteration works on the P-conjugate residuals
 * Yields after every iteration, and once before the first (iteration 0). Ends by itself only at an exact solution or
 * when the system is seen not to be positive definite.
 *
 * @param applyNormal  x ↦ N·x; may write into `out`; must not change x
 * @param b  right-hand side, [n]
 * @param options.x0  first estimate, [n]; default 0
 * @param options.preconditioner  r ↦ P·r, symmetric positive definite; may write into `out`
 *
 * `estimate` is a live view: copy it to keep it. `residualNorm` is ‖b − N·x‖ by recurrence; it parts from the true one
 * near 1e-16·cond(N)·‖b‖.
 *
 * Source      Hestenes & Stiefel (1952); Golub & Van Loan, Matrix Computations, ch. 11.5 (preconditioned); from memory
 * Checked by  conjugate-gradient.test.ts (n steps for order n, dense Cholesky solution)
 */
export function* conjugateGradient(
  applyNormal: (x: Float64Array, out?: Float64Array) => Float64Array,
  b: Float64Array,
  {
    x0,
    preconditioner,
  }: { x0?: Float64Array; preconditioner?: (r: Float64Array, out?: Float64Array) => Float64Array } = {},
): Generator<SolverStep, SolverEnd, void> {
  const n = b.length;
  const x = startAt(x0, n);
  const r = Float64Array.from(b);
  if (x0) subtract(r, applyNormal(x));
  const work = new Float64Array(n);
  const precondition = () => (preconditioner ? preconditioner(r, work) : r);
  let z = precondition();
  const p = Float64Array.from(z);
  const product = new Float64Array(n);
  let rz = dot(r, z);
  const rightHandNorm = Math.sqrt(dot(b, b));
  for (let iteration = 0; ; iteration++) {
    const residualNorm = Math.sqrt(dot(r, r));
    yield { iteration, estimate: x, residualNorm, rightHandNorm };
    if (residualNorm === 0) return { outcome: "converged", reason: "exact solution" };
    if (!(rz > 0)) return { outcome: "diverged", reason: "the preconditioner is not positive definite" };
    const np = applyNormal(p, product);
    const curvature = dot(p, np);
    if (!(curvature > 0)) return { outcome: "diverged", reason: "the system is not positive definite" };
    const alpha = rz / curvature;
    for (let i = 0; i < n; i++) {
      x[i] = x[i] + alpha * p[i];
      r[i] = r[i] - alpha * np[i];
    }
    z = precondition();
    const next = dot(r, z);
    const beta = next / rz;
    rz = next;
    for (let i = 0; i < n; i++) p[i] = z[i] + beta * p[i];
  }
}

function startAt(x0: Float64Array | undefined, n: number): Float64Array {
  if (x0 === undefined) return new Float64Array(n);
  if (x0.length === n) return Float64Array.from(x0);
  throw new FerruleError("ShapeMismatch", {
    path: "x0",
    found: `${x0.length} values`,
    accepted: `${n} values, as the right-hand side`,
  });
}

function subtract(r: Float64Array, y: Float64Array): void {
  for (let i = 0; i < r.length; i++) r[i] = r[i] - y[i];
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
}
