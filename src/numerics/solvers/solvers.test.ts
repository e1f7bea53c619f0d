import { describe, expect, it } from "vitest";
import { isKnownError } from "../../errors.js";
import { choleskyFactor, choleskySolve } from "../linear/cholesky.js";
import { stream } from "../random/stream.js";
import { conjugateGradient } from "./conjugate-gradient.js";
import { run, runInSlices } from "./run.js";
import type { Solver, SolverEnd, SolverStep } from "./solver.js";
import { afterIterations, firstOf, residualAbove, residualBelow, stagnation } from "./stopping.js";

const n = 12;
const { matrix, apply } = system();
const b = stream(9).fillNormal(new Float64Array(n));

/** GᵀG/n + diag(0.1·j), condition some hundreds. */
function system() {
  const g = stream(8).fillNormal(new Float64Array(n * n));
  const matrix = new Float64Array(n * n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++) {
      for (let k = 0; k < n; k++) matrix[i * n + j] += (g[k * n + i] * g[k * n + j]) / n;
      if (i === j) matrix[i * n + j] += 0.1 * (j + 1);
    }
  const apply = (x: Float64Array) =>
    Float64Array.from(x, (_, i) => x.reduce((sum, value, j) => sum + matrix[i * n + j] * value, 0));
  return { matrix, apply };
}

const jacobi = (r: Float64Array) => r.map((value, i) => value / matrix[i * n + i]);

describe("conjugate gradients", () => {
  const exact = choleskySolve(choleskyFactor(matrix, n)!, b);
  it.each([
    ["plain", {}],
    ["preconditioned", { preconditioner: jacobi }],
    ["from another start", { x0: Float64Array.from(b, (_, i) => i) }],
  ])("agree with the dense solution, %s", (_, options) => {
    const result = run(conjugateGradient(apply, b, options), firstOf(residualBelow(1e-13), afterIterations(3 * n)));
    expect(result.outcome).toBe("converged");
    // Condition (hundreds) times the residual asked for.
    for (let i = 0; i < n; i++) expect(Math.abs(result.estimate[i] - exact[i])).toBeLessThan(1e-10);
    // In exact arithmetic n iterations; rounding may cost a few more.
    expect(result.iterations).toBeLessThanOrEqual(n + 6);
  });

  it("need two iterations for two distinct eigenvalues", () => {
    const values = Float64Array.from({ length: n }, (_, i) => (i % 2 === 0 ? 1 : 7));
    const two = (x: Float64Array) => x.map((v, i) => values[i] * v);
    const result = run(conjugateGradient(two, b), firstOf(residualBelow(1e-13), afterIterations(50)));
    expect(result.iterations).toBe(2);
  });

  it("report a system that is not positive definite", () => {
    const result = run(
      conjugateGradient((x) => x.map((v) => -v), b),
      afterIterations(50),
    );
    expect(result).toMatchObject({ outcome: "diverged", reason: "the system is not positive definite" });
  });

  it("report a system that gives no numbers", () => {
    const result = run(
      conjugateGradient((x) => x.map(() => Number.NaN), b),
      afterIterations(50),
    );
    expect(result.outcome).toBe("diverged");
  });

  it("solve for a right-hand side of zero at once", () => {
    const result = run(conjugateGradient(apply, new Float64Array(n)), residualBelow(1e-6));
    expect(result).toMatchObject({ outcome: "converged", iterations: 0, residualNorm: 0 });
  });

  it("refuse a start of another length", () => {
    expect(() => conjugateGradient(apply, b, { x0: new Float64Array(3) }).next()).toThrow(/3 values/);
  });
});

/** A solver whose residuals are given. */
function* scripted(residuals: readonly number[]): Generator<SolverStep, SolverEnd, void> {
  for (const [iteration, residualNorm] of residuals.entries())
    yield { iteration, estimate: Float64Array.of(iteration), residualNorm, rightHandNorm: 1 };
  return { outcome: "converged", reason: "script over" };
}

describe("stopping rules", () => {
  it("name why they stopped", () => {
    expect(run(scripted([1, 0.5, 0.01]), residualBelow(0.1))).toMatchObject({
      outcome: "converged",
      iterations: 2,
      reason: "residual 0.0100 <= 0.1",
    });
    expect(run(scripted([1, 1, 1, 1]), afterIterations(2))).toMatchObject({
      outcome: "iteration-limit",
      iterations: 2,
      reason: "after 2 iterations",
    });
    expect(run(scripted([1, 2000]), residualAbove(1e3)).outcome).toBe("diverged");
    expect(run(scripted([1, 0.5]), residualBelow(0.1)).reason).toBe("script over");
  });

  it("see stagnation only after the stated number of iterations without the stated progress", () => {
    const rule = stagnation({ over: 3, relative: 0.1 });
    expect(run(scripted([1, 0.5, 0.49, 0.48, 0.47, 0.46]), rule).iterations).toBe(4);
    expect(run(scripted([1, 0.85, 0.72, 0.6, 0.5, 0.4]), rule).reason).toBe("script over");
  });

  it("can be used again after a run", () => {
    const rule = firstOf(stagnation({ over: 2 }), afterIterations(3));
    const first = run(scripted([1, 1, 1, 1, 1]), rule);
    expect(run(scripted([1, 1, 1, 1, 1]), rule)).toEqual(first);
    expect(rule.name).toContain(", or ");
  });

  it("refuse senseless settings", () => {
    expect(() => residualBelow(0)).toThrow(/above 0/);
    expect(() => afterIterations(1.5)).toThrow(/whole number/);
    try {
      stagnation({ over: -1 });
      expect.unreachable();
    } catch (error) {
      expect(isKnownError(error, "InvalidValue")).toBe(true);
    }
  });
});

describe("run", () => {
  it("shows progress and stops on the signal with the estimate so far", () => {
    const controller = new AbortController();
    const seen: number[] = [];
    const result = run(scripted([1, 1, 1, 1, 1, 1]), afterIterations(100), {
      signal: controller.signal,
      onProgress: ({ iteration }) => {
        seen.push(iteration);
        if (iteration === 2) controller.abort();
      },
    });
    expect(seen).toEqual([0, 1, 2]);
    expect(result).toMatchObject({ outcome: "cancelled", iterations: 2 });
    expect(Array.from(result.estimate)).toEqual([2]);
  });

  it("in slices, lets a timer cancel it", async () => {
    const controller = new AbortController();
    setTimeout(() => controller.abort(), 5);
    const endless = conjugateGradient((x) => x.map((v, i) => v * (1 + i)), b);
    const result = await runInSlices(endlessly(endless), afterIterations(1e9), {
      signal: controller.signal,
      sliceTime_s: 0.001,
    });
    expect(result.outcome).toBe("cancelled");
  });

  it("in slices, gives the same as in one go", async () => {
    const rule = firstOf(residualBelow(1e-10), afterIterations(100));
    const sliced = await runInSlices(conjugateGradient(apply, b), rule, { sliceTime_s: 0 });
    expect(sliced).toEqual(run(conjugateGradient(apply, b), rule));
  });
});

/** Repeats the first step of a solver for ever. */
function* endlessly(solver: Solver): Generator<SolverStep, SolverEnd, void> {
  const first = solver.next();
  if (first.done) return first.value;
  for (let iteration = 0; ; iteration++) yield { ...first.value, iteration };
}
