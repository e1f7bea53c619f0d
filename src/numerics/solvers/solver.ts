/** One state of an iterative solver. */
export interface SolverStep {
  readonly iteration: number;
  /** Live view of the solver's own array: copy it to keep it. */
  readonly estimate: Float64Array;
  readonly residualNorm: number;
  /** Norm of the right-hand side, to which tolerances are relative. */
  readonly rightHandNorm: number;
}

export type SolverOutcome = "converged" | "iteration-limit" | "diverged" | "cancelled";

/** How a solver that ended by itself ended. */
export interface SolverEnd {
  readonly outcome: SolverOutcome;
  readonly reason: string;
}

export type Solver = Iterator<SolverStep, SolverEnd, void>;
