import { finishSteps, gaussLegendre, type Steps } from "../../numerics/index.js";
import type { PeriodicField } from "../signal/periodic-field.js";
import { type NeelOptions, requireNeel } from "./neel-fokker-planck.js";
import { type NeelParticle, neelPeriodicSteps } from "./neel-periodic.js";
import { requireSamples, requireTolerance } from "./period-mesh.js";
import type { PeriodicMagnetisation } from "./periodic-magnetisation.js";

/** The basis grows with the barrier: at 60 one angle takes a minute. */
const barrierBounds = [-30, 60] as const;

export interface RandomAxesOptions extends NeelOptions {
  /** Gauss-Legendre nodes in the cosine of the angle, from 0 to 1. */
  readonly angles?: number;
}

/**
 * Periodic steady state of moments that turn inside immobile cores whose easy axes point anywhere: the mean over the sphere of
 * one axis at an angle psi to the field.
 *   M/Ms = int_0^1 M_psi/Ms d(cos psi)   (an axis and its opposite are the same)
 *
 * @returns M/Ms along the field, [samples]; the detail holds the worst of the angles
 *
 * Valid for   relaxation *without precession*: the gyroscopic term of Brown's equation is left out. Equilibrium and
 *             barriers are exact; rates are those of strong damping. With weak damping (alpha below about 0.3, from
 *             memory) and a field across the axis the rate of crossing may differ by a small factor; resonance (GHz) is
 *             absent. Sound where the drive is slow against the precession (ns) and the rate matters by its exponent.
 * Source      W. F. Brown, Phys. Rev. 130:1677 (1963), damping terms; from memory
 * Checked by  checks/relaxation (general solver, field along z; static limit by quadrature)
 */
export function neelRandomAxes(
  field: PeriodicField,
  particle: NeelParticle,
  options: RandomAxesOptions = {},
): PeriodicMagnetisation {
  return finishSteps(neelRandomAxesSteps(field, particle, options));
}

/** `neelRandomAxes` in small steps: can show progress and be stopped. */
export function* neelRandomAxesSteps(
  field: PeriodicField,
  particle: NeelParticle,
  { samples = 64, tolerance = 1e-6, angles = 8 }: RandomAxesOptions = {},
): Steps<PeriodicMagnetisation> {
  requireNeel(particle, barrierBounds);
  requireSamples(samples);
  requireTolerance(tolerance);
  const { nodes, weights } = gaussLegendre(angles, { interval: [0, 1] });
  const magnetisation = new Float64Array(samples);
  let outcome: PeriodicMagnetisation["outcome"] = "converged";
  let detail = { periods: 0, moments: 0, steps: 0, errorEstimate: 0 };
  for (let a = 0; a < angles; a++) {
    const steps = neelPeriodicSteps({ ...particle, field, cosAngle: nodes[a], samples, tolerance });
    let state = steps.next();
    while (!state.done) {
      yield (a + 0.5) / angles;
      state = steps.next();
    }
    const one = state.value;
    for (let k = 0; k < samples; k++) magnetisation[k] += weights[a] * one.magnetisation[k];
    if (one.outcome !== "converged") outcome = one.outcome;
    detail = {
      periods: detail.periods + one.detail.periods,
      moments: Math.max(detail.moments, one.detail.moments),
      steps: Math.max(detail.steps, one.detail.steps),
      errorEstimate: Math.max(detail.errorEstimate, one.detail.errorEstimate),
    };
  }
  return { magnetisation, outcome, detail };
}

/** Periodic steady state for one angle of the easy axis to the field; `neelRandomAxes` averages these. */
export function neelAtAngle(
  field: PeriodicField,
  particle: NeelParticle & { readonly cosAngle: number },
  { samples = 64, tolerance = 1e-6 }: NeelOptions = {},
): PeriodicMagnetisation {
  requireNeel(particle, barrierBounds);
  requireSamples(samples);
  requireTolerance(tolerance);
  return finishSteps(neelPeriodicSteps({ ...particle, field, samples, tolerance }));
}
