import type { Solver, SolverEnd, SolverOutcome, SolverStep } from "./solver.js";
import type { StoppingRule } from "./stopping.js";

export interface RunOptions {
  readonly signal?: AbortSignal;
  /** Called with every step; the estimate in it is a live view. */
  readonly onProgress?: (step: SolverStep) => void;
}

export interface RunResult {
  /** The solver's last estimate (its own array; the solver is finished with it). */
  readonly estimate: Float64Array;
  readonly outcome: SolverOutcome;
  readonly reason: string;
  readonly iterations: number;
  readonly residualNorm: number;
}

/**
 * Runs a solver until the rule stops it, it ends by itself, its residual is no longer a number, or the signal aborts.
 * Cancelling is an outcome, not an error: the estimate so far comes back with it.
 *
 * Runs to the end in one go: a signal can only be raised from `onProgress` meanwhile. `runInSlices` lets other work
 * (a key press, a timer) in between.
 *
 * Checked by  run.test.ts
 */
export function run(solver: Solver, rule: StoppingRule, { signal, onProgress }: RunOptions = {}): RunResult {
  const advance = advancing(solver, rule, { signal, onProgress });
  for (;;) {
    const result = advance();
    if (result) return result;
  }
}

/** As `run`, giving way to other work at least every `sliceTime_s`. */
export async function runInSlices(
  solver: Solver,
  rule: StoppingRule,
  { sliceTime_s = 0.05, ...options }: RunOptions & { sliceTime_s?: number } = {},
): Promise<RunResult> {
  const advance = advancing(solver, rule, options);
  for (;;) {
    const end = performance.now() + 1000 * sliceTime_s;
    do {
      const result = advance();
      if (result) return result;
    } while (performance.now() < end);
    await new Promise((resolve) => setTimeout(resolve, 0));
  }
}

function advancing(
  solver: Solver,
  rule: StoppingRule,
  { signal, onProgress }: RunOptions,
): () => RunResult | undefined {
  const watch = rule.begin();
  let last: SolverStep | undefined;
  const finish = ({ outcome, reason }: SolverEnd): RunResult => ({
    estimate: last?.estimate ?? new Float64Array(0),
    outcome,
    reason,
    iterations: last?.iteration ?? 0,
    residualNorm: last?.residualNorm ?? Number.NaN,
  });
  return () => {
    if (last && signal?.aborted) return finish({ outcome: "cancelled", reason: "stopped by the user" });
    const next = solver.next();
    if (next.done) return finish(next.value);
    last = next.value;
    onProgress?.(last);
    if (!Number.isFinite(last.residualNorm))
      return finish({ outcome: "diverged", reason: `residual norm is ${last.residualNorm}` });
    const end = watch(last);
    return end === undefined ? undefined : finish(end);
  };
}
