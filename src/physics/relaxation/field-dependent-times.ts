import { langevinRatio, langevinSlope } from "../particle/langevin.js";

/** Relaxation times as a share of the zero-field Brown time, by the field's xi. All even in xi, 1 at 0. */
export type TimeLaw = (xi: number) => number;

/**
 * Alternating field of peak xi: one effective time for the whole cycle.
 *   tau/tau_B = 1 / sqrt(1 + 0.126 xi^1.72)
 *
 * Valid for   a fit to solutions of the Fokker-Planck equation for one sine; its range is not known to us
 * Source      Yoshida & Enpuku, Jpn. J. Appl. Phys. 48:127002 (2009); from memory
 * Checked by  field-dependent.test.ts (worked values of the printed form)
 */
export const alternatingFieldTime: TimeLaw = (xi) => 1 / Math.sqrt(1 + 0.126 * Math.abs(xi) ** 1.72);

/**
 * Constant field, small changes of the magnetisation along it.
 *   tau_par/tau_B = xi L'(xi) / L(xi)
 *
 * Valid for   small departures from equilibrium in the field xi (effective-field approximation)
 * Source      Martsenyuk, Raikher & Shliomis, JETP 38:413 (1974); from memory
 * Checked by  checks/relaxation (response of the Fokker-Planck equation to a small field on top of a constant one)
 */
export const parallelTime: TimeLaw = (xi) => langevinSlope(xi) / langevinRatio(xi);

/**
 * Constant field, small changes of the magnetisation across it.
 *   tau_perp/tau_B = 2 L(xi) / (xi - L(xi))
 *
 * Valid for, Source   as `parallelTime`
 * Checked by  field-dependent.test.ts (limits and printed form), checks/relaxation (eigenvalue of the transverse operator)
 */
export const transverseTime: TimeLaw = (xi) => {
  const ratio = langevinRatio(xi);
  return (2 * ratio) / (1 - ratio);
};

/**
 * Constant field, fitted forms as our notes have them.
 *   tau_par/tau_B = 1/sqrt(1 + 0.21 xi^2),  tau_perp/tau_B = 1/sqrt(1 + 0.07 xi^2)
 *
 * Valid for   xi below 1 (within 4 % along, 7 % across of the effective-field forms). LOW CONFIDENCE: at xi 5 they are 1.6 times, far
 *             out 2.2 and 1.9 times the effective-field forms, which the Fokker-Planck equation bears out (within 7 %).
 * Source      Yoshida, Ogawa, Enpuku et al., about 2010 to 2012; coefficients from memory
 * Checked by  field-dependent.test.ts (the printed forms; the disagreement)
 */
export const fittedParallelTime: TimeLaw = (xi) => 1 / Math.sqrt(1 + 0.21 * xi * xi);
export const fittedTransverseTime: TimeLaw = (xi) => 1 / Math.sqrt(1 + 0.07 * xi * xi);
