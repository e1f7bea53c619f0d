import { FerruleError } from "../../errors.js";
import { langevin } from "../particle/langevin.js";
import { requireBetween } from "../particle/ranges.js";

/**
 * Harmonic of the equilibrium magnetisation under a cosine drive.
 *   c_n = (2/pi) int_0^pi L(xi0 cos theta) cos(n theta) dtheta
 * The integrand is smooth and periodic, so even steps converge as e^(-M asinh(pi/xi0)) with M of them per turn: the nearest
 * poles of L lie at xi = +-i pi.
 *
 * @param driveXi  xi at the peak of the drive, xi0
 * @param harmonic  odd whole number (even ones are zero by symmetry)
 * @returns c_n of M/Ms = sum c_n cos(n w t)
 *
 * Valid for   xi0 from 0 to 1e5, n to 9999; absolute error below 1e-13. Small xi0: xi0/3 - xi0^3/60 and -xi0^3/180.
 * Source      facts M22; derived
 * Checked by  checks/relaxation (adaptive quadrature in 30 digits; printed values at xi0 5 and 10)
 */
export function quasiStaticHarmonic(driveXi: number, harmonic: number): number {
  requireBetween(driveXi, [0, 1e5], { path: "drive-xi", example: "5" });
  requireOdd(harmonic);
  if (driveXi === 0) return 0;
  // Quarter turns only: theta and pi - theta give the same product for odd n. Aliasing starts at 4 quarter - n.
  const quarter = Math.ceil((40 / Math.asinh(Math.PI / driveXi) + harmonic) / 4) + 2;
  let sum = langevin(driveXi) / 2;
  for (let k = 1; k < quarter; k++) {
    const theta = (Math.PI / 2) * (k / quarter);
    sum += langevin(driveXi * Math.cos(theta)) * Math.cos(harmonic * theta);
  }
  return (2 * sum) / quarter;
}

/**
 * Limit of the ratio c_(n+2)/c_n far up the spectrum: how fast the harmonics of a tracer die.
 *   -exp(-2 asinh(pi/xi0))
 *
 * Source      facts M22 (distance of the poles of L from the real axis); derived. Checked by checks/relaxation.
 */
export function harmonicDecay(driveXi: number): number {
  requireBetween(driveXi, [0, 1e5], { path: "drive-xi", example: "5" });
  return driveXi === 0 ? 0 : -Math.exp(-2 * Math.asinh(Math.PI / driveXi));
}

/** Refuses harmonics that are not odd whole numbers. */
export function requireOdd(harmonic: number, most = 9999): number {
  if (Number.isInteger(harmonic) && harmonic % 2 === 1 && harmonic >= 1 && harmonic <= most) return harmonic;
  throw new FerruleError("InvalidValue", {
    path: "harmonic",
    found: String(harmonic),
    accepted: `an odd whole number from 1 to ${most}, e.g. 3 (even harmonics are zero without a bias field)`,
  });
}
