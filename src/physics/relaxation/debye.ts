import { FerruleError } from "../../errors.js";
import { fourierPlan } from "../../numerics/index.js";
import { requirePositive } from "../particle/ranges.js";
import { type PeriodicField, sampleField } from "../signal/periodic-field.js";
import { requireSamples, requireTolerance } from "./period-mesh.js";
import { largestDifference } from "./periodic-closure.js";
import { defaultSamples, type PeriodicMagnetisation } from "./periodic-magnetisation.js";

/** What one relaxation time does to one harmonic. */
export interface DebyeFactor {
  /** chi'/chi_0 = 1/(1 + (w tau)^2). */
  readonly inPhase: number;
  /** chi''/chi_0 = w tau/(1 + (w tau)^2), the lagging part. */
  readonly lagging: number;
  /** 1/sqrt(1 + (w tau)^2). */
  readonly amplitude: number;
  /** atan(w tau), rad. */
  readonly lag_rad: number;
}

/**
 * Linear response with one relaxation time, chi = chi' - i chi'' for fields e^(+i w t).
 *   chi/chi_0 = 1/(1 + i w tau)
 *
 * Source      Debye; Rosensweig, JMMM 252:370 (2002); from memory
 * Checked by  checks/relaxation (25 kHz, 3 us: 0.904592, 25.2316 deg), debye.test.ts (w tau 1)
 */
export function debyeFactor(omegaTau: number): DebyeFactor {
  const amplitude = 1 / Math.hypot(1, omegaTau);
  const inPhase = amplitude * amplitude;
  return { inPhase, lagging: omegaTau * inPhase, amplitude, lag_rad: Math.atan(omegaTau) };
}

/**
 * Steady response of a periodic waveform to an exponential memory.
 *   tau dM/dt = M_eq(t) - M,  M = M_eq * e^(-t/tau)/tau
 * Exact in Fourier space for the trigonometric polynomial through the samples: each harmonic is divided by 1 + i n w tau.
 *
 * @param equilibrium  M_eq at even times of one period, shape [n]; left as it is
 * @returns M, [n]
 *
 * Valid for   one constant time: no field dependence, no shape change of its own. At large drive it is not what rotating
 *             particles do (`brownianMagnetisation`).
 * Source      Croft et al., IEEE TMI 31:2335 (2012), equation from memory; linear time-invariant memory on the Langevin
 *             signal: abstract of arXiv:2603.11708, read
 * Checked by  checks/relaxation, debye.test.ts (closed form of a square wave)
 */
export function debyeResponse(
  equilibrium: Float64Array,
  { period_s, relaxationTime_s }: { period_s: number; relaxationTime_s: number },
): Float64Array {
  requirePositive(period_s, "period_s", "4e-5");
  if (!(Number.isFinite(relaxationTime_s) && relaxationTime_s >= 0)) throw refuseTime(relaxationTime_s);
  const n = requireSamples(equilibrium.length);
  const spectrum = new Float64Array(2 * n);
  for (let i = 0; i < n; i++) spectrum[2 * i] = equilibrium[i];
  const plan = fourierPlan(n);
  plan.forward(spectrum);
  for (let k = 0; k < n; k++) {
    const order = 2 * k < n ? k : k - n;
    const x = ((2 * Math.PI) / period_s) * order * relaxationTime_s;
    const { inPhase, lagging } = debyeFactor(x);
    const re = spectrum[2 * k];
    const im = spectrum[2 * k + 1];
    spectrum[2 * k] = inPhase * re + lagging * im;
    // The highest bin of an even length holds both signs of one cosine: only its in-phase part can be kept.
    spectrum[2 * k + 1] = 2 * k === n ? 0 : inPhase * im - lagging * re;
  }
  plan.inverse(spectrum);
  return Float64Array.from({ length: n }, (_, i) => spectrum[2 * i]);
}

/** More samples than this are not tried. */
const mostSamples = 65536;

/**
 * Debye relaxation of any equilibrium curve under a drive; the drive is sampled as finely as the answer needs.
 *
 * @param equilibrium  M/Ms of an array of mu0H in T (Langevin of one size, of a distribution, of chains)
 * @param options.tolerance  two sampling rates must agree within this
 * @returns M/Ms, [samples]
 *
 * Valid for, Source, Checked by   as `debyeResponse`
 */
export function debyeMagnetisation(
  field: PeriodicField,
  equilibrium: (field_T: Float64Array) => Float64Array,
  {
    relaxationTime_s,
    samples = defaultSamples,
    tolerance = 1e-7,
  }: { relaxationTime_s: number; samples?: number; tolerance?: number },
): PeriodicMagnetisation {
  requireSamples(samples);
  requireTolerance(tolerance);
  const { period_s } = field;
  const response = (n: number) => debyeResponse(equilibrium(sampleField(field, n)), { period_s, relaxationTime_s });
  let coarse = thinned(response(samples), samples);
  for (let factor = 2; ; factor *= 2) {
    const steps = samples * factor;
    const magnetisation = thinned(response(steps), samples);
    const errorEstimate = largestDifference(magnetisation, coarse);
    const isDone = errorEstimate <= tolerance;
    if (isDone || 2 * steps > mostSamples)
      return {
        magnetisation,
        outcome: isDone ? "converged" : "iteration-limit",
        detail: { periods: 0, moments: 1, steps, errorEstimate },
      };
    coarse = magnetisation;
  }
}

function thinned(values: Float64Array, samples: number): Float64Array {
  const step = values.length / samples;
  return Float64Array.from({ length: samples }, (_, k) => values[k * step]);
}

function refuseTime(found: number): FerruleError {
  return new FerruleError("InvalidValue", {
    path: "relaxationTime_s",
    found: String(found),
    accepted: "a finite time of 0 s or more, e.g. 3e-6 (3 us)",
  });
}
