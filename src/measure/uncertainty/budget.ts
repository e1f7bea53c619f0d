/** One contribution to a result's uncertainty, k = 1, in the result's own unit (SI). */
export interface BudgetLine {
  readonly name: string;
  readonly type: "A" | "B";
  readonly standardUncertainty: number;
  /** Infinity where the value is not estimated from few data. */
  readonly degreesOfFreedom: number;
  readonly note: string;
  /** Counts towards the "precision only" figure: noise and background, nothing systematic. */
  readonly isPrecision: boolean;
}

export interface Combined {
  readonly standardUncertainty: number;
  readonly effectiveDegreesOfFreedom: number;
}

/**
 * Root sum of squares of independent contributions and the effective degrees of freedom.
 *   u_c² = Σ u_i²,  ν_eff = u_c⁴ / Σ u_i⁴/ν_i  (Welch-Satterthwaite)
 *
 * Source      JCGM 100:2008 eq. 10 (facts Q1, read (secondary)); G.2b (from memory)
 */
export function combine(lines: readonly Pick<BudgetLine, "standardUncertainty" | "degreesOfFreedom">[]): Combined {
  const variance = lines.reduce((sum, { standardUncertainty: u }) => sum + u * u, 0);
  const spread = lines.reduce((sum, { standardUncertainty: u, degreesOfFreedom: nu }) => sum + u ** 4 / nu, 0);
  return {
    standardUncertainty: Math.sqrt(variance),
    effectiveDegreesOfFreedom: spread === 0 ? Number.POSITIVE_INFINITY : variance ** 2 / spread,
  };
}
