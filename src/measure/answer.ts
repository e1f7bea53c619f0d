import type { BudgetLine } from "./uncertainty/budget.js";

/** The answer to one iron-mass question: what a report prints and a person may act on. All masses are of Fe, kg. */
export interface IronMassAnswer {
  readonly question: "iron-mass";
  readonly region: string;
  readonly scan: string;
  readonly value_kg: number;
  readonly standardUncertainty_kg: number;
  /** All contributions about the true value. */
  readonly interval95_kg: readonly [number, number];
  /** Noise and background alone: how well the same scan would repeat. */
  readonly precisionOnly: {
    readonly standardUncertainty_kg: number;
    readonly interval95_kg: readonly [number, number];
  };
  readonly effectiveDegreesOfFreedom: number;
  /** Above this the region is called detected (alpha = 0.05, this region alone). */
  readonly criticalLevel_kg: number;
  /** What would be detected 95 times in 100 (beta = 0.05): for planning, not for deciding. */
  readonly detectionLimit_kg: number;
  /** Withheld when a part of the uncertainty is not known. */
  readonly decision: "detected" | "not detected" | "withheld";
  readonly budget: readonly BudgetLine[];
  readonly advisories: readonly string[];
}
