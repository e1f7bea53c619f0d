import { numberWeighted } from "../../physics/index.js";

/** The volume-weighted log-normal of a document: median and the sd of ln d. */
export interface StatedLognormal {
  readonly medianDiameter_m: number;
  readonly logSd: number;
}

export interface LognormalUncertainty {
  readonly medianDiameter_m?: number | undefined;
  readonly logSd?: number | undefined;
  readonly medianLogSdCorrelation?: number | undefined;
}

/**
 * Standard uncertainties of (d_n, s) from those of (d_v, s), to first order:
 *   ln d_n = ln d_v - 3 s^2,  J = [[1, -6 s], [0, 1]],  C' = J C J^T
 *
 * @param stated  the volume-weighted log-normal
 * @param uncertainty  u(d_v) in m, u(s), and their correlation (0 when not stated)
 * @returns the same for the number-weighted median; an absent pair stays absent
 *
 * Valid for   6 u(s)^2 << 1 (first order); Source: JCGM 100, law of propagation (common practice).
 * Checked by  number-weighted-uncertainty.test.ts (finite differences)
 */
export function numberWeightedUncertainty(
  stated: StatedLognormal,
  { medianDiameter_m, logSd, medianLogSdCorrelation = 0 }: LognormalUncertainty,
): LognormalUncertainty {
  if (medianDiameter_m === undefined || logSd === undefined) return { medianDiameter_m, logSd };
  const relative = medianDiameter_m / stated.medianDiameter_m;
  const covariance = medianLogSdCorrelation * relative * logSd;
  const slope = -6 * stated.logSd;
  const variance = relative ** 2 + 2 * slope * covariance + (slope * logSd) ** 2;
  const sd = Math.sqrt(Math.max(0, variance));
  const product = sd * logSd;
  return {
    medianDiameter_m: sd * numberWeighted({ kind: "lognormal", weighting: "volume", ...stated }).medianDiameter_m,
    logSd,
    // Rounding may carry a fully correlated pair just beyond 1.
    medianLogSdCorrelation: product === 0 ? 0 : Math.max(-1, Math.min(1, (covariance + slope * logSd ** 2) / product)),
  };
}
