import { FerruleError } from "../../errors.js";
import { normalQuantile, studentTQuantile } from "../../numerics/index.js";

/** Decision and detection limits of a quantity whose standard uncertainty does not change with its value. */
export interface ConstantLimits {
  /** Decides "detected". */
  readonly critical: number;
  /** Plans: a true value that is called detected with probability 1 - beta. */
  readonly detection: number;
  /** Relative standard uncertainty 10 %. */
  readonly quantification: number;
}

/**
 * Limits for a constant standard uncertainty s.
 *   s known:             y_C = z_a s,  y_D = (z_a + z_b) s: 1.645 s and 3.29 s at alpha = beta = 0.05,  y_Q = 10 s
 *   s from nu freedoms:  z becomes t_(1-alpha, nu)
 *   mean of n blanks subtracted: s grows by sqrt(1 + 1/n)
 *
 * @param standardUncertainty  of one result, in any unit
 * @param options.degreesOfFreedom  of its estimate; Infinity: known
 * @param options.blanks  how many blanks of the same duration made the subtracted mean; Infinity: mean known
 *
 * Valid for   normal errors. y_D with t is the usual approximation (the exact non-central t is 5 % lower at nu = 4,
 *             1 % at 20).
 * Source      Currie, Pure Appl. Chem. 67:1699 (1995); facts Q6, from memory
 * Checked by  constant-limits.test.ts (false calls and misses by simulation), checks/receive-chain
 */
export function constantLimits(
  standardUncertainty: number,
  {
    alpha = 0.05,
    beta = 0.05,
    degreesOfFreedom = Number.POSITIVE_INFINITY,
    blanks = Number.POSITIVE_INFINITY,
  }: { alpha?: number; beta?: number; degreesOfFreedom?: number; blanks?: number } = {},
): ConstantLimits {
  if (!(standardUncertainty >= 0 && Number.isFinite(standardUncertainty)))
    throw refused("standardUncertainty", standardUncertainty, "a finite number from 0, e.g. 1.2");
  if (!(blanks >= 1)) throw refused("blanks", blanks, "a number of blanks from 1, e.g. 5 (Infinity: mean known)");
  const [a, b] = [quantile(alpha, degreesOfFreedom, "alpha"), quantile(beta, degreesOfFreedom, "beta")];
  const s = standardUncertainty * Math.sqrt(1 + 1 / blanks);
  return { critical: a * s, detection: (a + b) * s, quantification: 10 * s };
}

function quantile(rate: number, degreesOfFreedom: number, path: string): number {
  if (!(rate > 0 && rate < 0.5)) throw refused(path, rate, "a rate of wrong calls above 0 and below 0.5, e.g. 0.05");
  if (!(degreesOfFreedom > 0)) throw refused("degreesOfFreedom", degreesOfFreedom, "a number above 0, e.g. 9");
  return degreesOfFreedom === Number.POSITIVE_INFINITY
    ? normalQuantile(1 - rate)
    : studentTQuantile(1 - rate, degreesOfFreedom);
}

function refused(path: string, found: number, accepted: string): FerruleError {
  return new FerruleError("InvalidValue", { path, found: String(found), accepted });
}
