import { FerruleError } from "../../errors.js";
import { finishSteps, partOf, type Steps } from "../../numerics/index.js";
import type { PeriodicField } from "../signal/periodic-field.js";
import { solveChunk } from "./brownian-chunk.js";
import { type BrownianKernel, legendreSteps } from "./legendre-steps.js";
import { requireSamples, requireTolerance } from "./period-mesh.js";
import {
  defaultSamples,
  type PeriodicDetail,
  type PeriodicMagnetisation,
  type PeriodicOutcome,
} from "./periodic-magnetisation.js";

/** Particles that turn as a whole in a liquid, under one drive. All arrays have shape [particles]. */
export interface BrownianParticles {
  /** xi per tesla, m/(kB T), 1/T. */
  readonly xiPerTesla: Float64Array;
  /** Brown time 3 eta V_H / (kB T), s. */
  readonly brownTime_s: Float64Array;
}

export interface BrownianOptions {
  /** Samples of the answer per period. */
  readonly samples?: number;
  /** Largest accepted error estimate of a sample of M/Ms. Harmonics err by at most twice this. */
  readonly tolerance?: number;
  /** The hot loop; a twin of the same signature may stand in. */
  readonly kernel?: BrownianKernel;
}

/** The response of each kind of particle on its own. */
export interface BrownianResponses {
  /** M/Ms, shape [particles, samples]. */
  readonly responses: Float64Array;
  /** The worst of their outcomes. */
  readonly outcome: PeriodicOutcome;
  /** Most moments and steps, all periods, largest error estimate. */
  readonly detail: PeriodicDetail;
}

/** Particles that are solved together: a constant of the method, so that results never depend on who shares the work. */
export const brownianChunk = 8;

/** A sample of M/Ms within 1e-7 keeps every harmonic within 2e-7, below the 1e-6 asked for. */
const defaultTolerance = 1e-7;

/**
 * Periodic steady state of one kind of particle that turns by Brownian rotation, M/Ms along the field.
 *   2 tau_B dW/dt = d/dx[(1 - x^2)(dW/dx - xi(t) W)],  x = cos theta,  M/Ms = <x>
 *
 * @param field  mu0H along one axis: sine, cosine, pulses, with or without bias
 * @param particle.xiPerTesla  m/(kB T), 1/T; @param particle.brownTime_s  s
 * @returns M/Ms, [samples]
 *
 * Valid for   fields along one fixed axis; moment fixed in the particle (its easy axis turns with it: Neel time long
 *             against the Brown time); dilute. Peak xi up to about 1000. Not a linear filter of the Langevin curve: at peak
 *             xi 5 and omega tau 1 that would be 21 % low in the fundamental.
 * Source      Felderhof & Jones, J. Phys. Cond. Mat. 15:4011 (2003); Yoshida & Enpuku, Jpn. J. Appl. Phys. 48:127002
 *             (2009); from memory, consistency derived
 * Checked by  checks/relaxation (general solver; printed harmonics; linear and quasi-static limits)
 */
export function brownianMagnetisation(
  field: PeriodicField,
  particle: { readonly xiPerTesla: number; readonly brownTime_s: number },
  options: BrownianOptions = {},
): PeriodicMagnetisation {
  const particles = {
    xiPerTesla: Float64Array.of(particle.xiPerTesla),
    brownTime_s: Float64Array.of(particle.brownTime_s),
  };
  const { responses, outcome, detail } = finishSteps(brownianResponsesSteps(field, particles, options));
  return { magnetisation: responses, outcome, detail };
}

/**
 * Weighted magnetisation of many kinds of particle under one drive: sum_p w_p M_p/Ms.
 *
 * @param particles.weight  share of each kind in the saturated moment, [particles]; a sum of 1 gives M/Ms
 * @returns [samples]; the detail holds the most moments and steps, all periods, the largest error estimate
 *
 * Valid for, Source, Checked by   as `brownianMagnetisation`
 */
export function brownianEnsemble(
  field: PeriodicField,
  particles: BrownianParticles & { readonly weight: Float64Array },
  options: BrownianOptions = {},
): PeriodicMagnetisation {
  return finishSteps(brownianEnsembleSteps(field, particles, options));
}

/** `brownianEnsemble` in small steps: can show progress and be stopped. */
export function* brownianEnsembleSteps(
  field: PeriodicField,
  particles: BrownianParticles & { readonly weight: Float64Array },
  options: BrownianOptions = {},
): Steps<PeriodicMagnetisation> {
  requireSameLength("weight", particles.weight, particles.xiPerTesla.length);
  const { responses, outcome, detail } = yield* brownianResponsesSteps(field, particles, options);
  return { magnetisation: weightedSum(responses, particles.weight), outcome, detail };
}

/** sum_p w_p m_p, [samples], from responses [particles, samples], in index order. */
export function weightedSum(responses: Float64Array, weight: Float64Array): Float64Array {
  const samples = responses.length / weight.length;
  const sum = new Float64Array(samples);
  for (let p = 0; p < weight.length; p++)
    for (let k = 0; k < samples; k++) sum[k] += weight[p] * responses[p * samples + k];
  return sum;
}

/**
 * The response of each kind of particle on its own, in small steps: what fits reweight and what workers share out.
 * Every multiple of `brownianChunk` is a fair place to cut: the responses are the same bits either way.
 */
export function* brownianResponsesSteps(
  field: PeriodicField,
  particles: BrownianParticles,
  { samples = defaultSamples, tolerance = defaultTolerance, kernel = legendreSteps }: BrownianOptions = {},
): Steps<BrownianResponses> {
  requireSamples(samples);
  requireTolerance(tolerance);
  requireParticles(particles);
  const { xiPerTesla, brownTime_s } = particles;
  const count = xiPerTesla.length;
  const responses = new Float64Array(count * samples);
  let outcome: PeriodicOutcome = "converged";
  let detail: PeriodicDetail = { periods: 0, moments: 0, steps: 0, errorEstimate: 0 };
  for (let from = 0; from < count; from += brownianChunk) {
    const to = Math.min(count, from + brownianChunk);
    const chunk = { xiPerTesla: xiPerTesla.subarray(from, to), brownTime_s: brownTime_s.subarray(from, to) };
    const part = yield* partOf(solveChunk(field, chunk, { samples, tolerance, kernel }), from / count, to / count);
    responses.set(part.magnetisation, from * samples);
    if (part.outcome !== "converged") outcome = part.outcome;
    detail = {
      periods: detail.periods + part.detail.periods,
      moments: Math.max(detail.moments, part.detail.moments),
      steps: Math.max(detail.steps, part.detail.steps),
      errorEstimate: Math.max(detail.errorEstimate, part.detail.errorEstimate),
    };
    yield to / count;
  }
  return { responses, outcome, detail };
}

function requireParticles({ xiPerTesla, brownTime_s }: BrownianParticles): void {
  requireSameLength("brownTime_s", brownTime_s, xiPerTesla.length);
  for (let p = 0; p < xiPerTesla.length; p++) {
    if (!(Number.isFinite(xiPerTesla[p]) && xiPerTesla[p] >= 0))
      throw refusal(
        `xiPerTesla[${p}]`,
        `${xiPerTesla[p]}`,
        "a finite number of 0 or more, e.g. 880.9 (25 nm, 446 kA/m)",
      );
    if (!(Number.isFinite(brownTime_s[p]) && brownTime_s[p] > 0))
      throw refusal(`brownTime_s[${p}]`, `${brownTime_s[p]}`, "a finite time above 0 s, e.g. 3.8e-4");
  }
}

function requireSameLength(path: string, array: Float64Array, length: number): void {
  if (array.length === length && length > 0) return;
  throw new FerruleError("ShapeMismatch", {
    path,
    found: `length ${array.length} beside ${length} particles`,
    accepted: "one value per particle, at least one particle",
  });
}

function refusal(path: string, found: string, accepted: string): FerruleError {
  return new FerruleError("InvalidValue", { path, found, accepted });
}
