import { FerruleError } from "../../errors.js";
import type { SolverEnd, SolverStep } from "./solver.js";

/**
 * When to stop, as a value. `begin` starts a fresh watch for one run (so a rule may be used for many runs), which looks
 * at every step and says how the run ends, or nothing.
 */
export interface StoppingRule {
  readonly name: string;
  begin(): (step: SolverStep) => SolverEnd | undefined;
}

/** Converged once ‖residual‖ <= relative·‖right-hand side‖. */
export function residualBelow(relative: number): StoppingRule {
  requirePositive(relative, "relative");
  return {
    name: `residual below ${relative} of the right-hand side`,
    begin: () => {
      return ({ residualNorm, rightHandNorm }) =>
        residualNorm <= relative * rightHandNorm
          ? { outcome: "converged", reason: `residual ${ratio(residualNorm, rightHandNorm)} <= ${relative}` }
          : undefined;
    },
  };
}

/** Iteration limit. As the intended end of a regularising iteration its outcome is still "iteration-limit". */
export function afterIterations(count: number): StoppingRule {
  if (!(Number.isInteger(count) && count >= 0))
    throw new FerruleError("InvalidValue", {
      path: "iterations",
      found: String(count),
      accepted: "a whole number, 0 or more, e.g. 50",
    });
  return {
    name: `after ${count} iterations`,
    begin: () => {
      return ({ iteration }) =>
        iteration >= count ? { outcome: "iteration-limit", reason: `after ${count} iterations` } : undefined;
    },
  };
}

/** Stops when `over` iterations together lowered the best residual by less than `relative` of it. */
export function stagnation({ over = 20, relative = 1e-3 }: { over?: number; relative?: number } = {}): StoppingRule {
  requirePositive(relative, "relative");
  requirePositive(over, "over");
  return {
    name: `less than ${relative} progress in ${over} iterations`,
    begin: () => {
      let best = Number.POSITIVE_INFINITY;
      let since = 0;
      return ({ iteration, residualNorm }) => {
        if (residualNorm < best * (1 - relative)) {
          best = residualNorm;
          since = iteration;
        }
        if (iteration - since < over) return undefined;
        // Not "converged": nothing says that the residual it got stuck at is small enough.
        return { outcome: "iteration-limit", reason: `residual fell by less than ${relative} in ${over} iterations` };
      };
    },
  };
}

/** Diverged once the residual exceeds `factor` times the right-hand side (or the first residual, if larger). */
export function residualAbove(factor = 1e3): StoppingRule {
  requirePositive(factor, "factor");
  return {
    name: `residual above ${factor} times the right-hand side`,
    begin: () => {
      let reference = 0;
      return ({ residualNorm, rightHandNorm, iteration }) => {
        if (iteration === 0) reference = Math.max(residualNorm, rightHandNorm);
        return residualNorm > factor * Math.max(reference, rightHandNorm)
          ? { outcome: "diverged", reason: `residual ${ratio(residualNorm, rightHandNorm)} of the right-hand side` }
          : undefined;
      };
    },
  };
}

/** Stops with the first rule that wants to; in the same step, the one named first. */
export function firstOf(...rules: readonly StoppingRule[]): StoppingRule {
  return {
    name: rules.map(({ name }) => name).join(", or "),
    begin: () => {
      const watches = rules.map((rule) => rule.begin());
      return (step) => {
        // Every watch must see every step: some keep count.
        const ends = watches.map((watch) => watch(step));
        return ends.find((end) => end !== undefined);
      };
    },
  };
}

function ratio(residualNorm: number, rightHandNorm: number): string {
  return (rightHandNorm === 0 ? residualNorm : residualNorm / rightHandNorm).toPrecision(3);
}

function requirePositive(value: number, path: string): void {
  if (value > 0 && Number.isFinite(value)) return;
  throw new FerruleError("InvalidValue", {
    path,
    found: String(value),
    accepted: "a finite number above 0, e.g. 1e-6",
  });
}
