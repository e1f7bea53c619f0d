import { finishSteps } from "../../numerics/index.js";
import { requireBetween, requirePositive } from "../particle/ranges.js";
import type { PeriodicField } from "../signal/periodic-field.js";
import { type NeelParticle, neelPeriodicSteps } from "./neel-periodic.js";
import { requireSamples, requireTolerance } from "./period-mesh.js";
import { defaultSamples, type PeriodicMagnetisation } from "./periodic-magnetisation.js";

export interface NeelOptions {
  /** Samples of the answer per period. */
  readonly samples?: number;
  /** Largest accepted error estimate of a sample of M/Ms. */
  readonly tolerance?: number;
}

/**
 * Periodic steady state of moments that turn inside immobile cores whose easy axes lie along the field.
 *   2 tau_N0 dW/dt = d/dx[(1 - x^2)(dW/dx - (xi(t) + 2 sigma x) W)],  x = cos theta,  M/Ms = <x>
 *
 * @param field  mu0H along the axis
 * @returns M/Ms, [samples]
 *
 * Valid for   sigma from -60 to 300; leaving out precession changes nothing here: about a common axis it moves nothing that is
 *             seen. Cores that do not cross the barrier in a period: exact where the drive's second half reverses its first;
 *             with a bias the outcome is "iteration-limit" once the crossing takes more than about 1e8 periods.
 * Source      W. F. Brown, Phys. Rev. 130:1677 (1963); from memory
 * Checked by  checks/relaxation (general solver on Galerkin matrices); sigma = 0 is `brownianMagnetisation`
 */
export function neelMagnetisation(
  field: PeriodicField,
  particle: NeelParticle,
  { samples = defaultSamples, tolerance = 1e-7 }: NeelOptions = {},
): PeriodicMagnetisation {
  requireNeel(particle, [-60, 300]);
  requireSamples(samples);
  requireTolerance(tolerance);
  return finishSteps(neelPeriodicSteps({ ...particle, field, cosAngle: 1, samples, tolerance }));
}

export function requireNeel(
  { xiPerTesla, barrier, freeTime_s }: NeelParticle,
  bounds: readonly [number, number],
): void {
  requirePositive(xiPerTesla, "xiPerTesla", "880.9 (25 nm, 446 kA/m)");
  requirePositive(freeTime_s, "freeTime_s", "1e-9");
  requireBetween(barrier, bounds, { path: "barrier", example: "13.1" });
}
