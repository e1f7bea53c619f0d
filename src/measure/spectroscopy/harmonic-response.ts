import { finishSteps } from "../../numerics/index.js";
import { brownianResponsesSteps, langevin } from "../../physics/index.js";

/**
 * Complex harmonics of M/Ms of one size under A cos wt + B0, interleaved re, im, shape [2K], as a function of
 * t = ln(xi at the drive's peak) and, where the particles relax, u = ln(w tau_B).
 */
export type HarmonicResponse = (logXi: number, logOmegaTau: number, out: Float64Array) => Float64Array;

/** Which harmonics, and the static field over the drive amplitude. */
export interface HarmonicSet {
  readonly harmonic: ArrayLike<number>;
  /** B0 / A. */
  readonly biasRatio: number;
}

/**
 * Harmonics in equilibrium.
 *   m_k = (1/pi) int_0^2pi L(xi (cos theta + r)) cos(k theta) dtheta, real
 * Even steps converge as e^(-N asinh(pi/xi)): the nearest poles of L lie at +-i pi.
 *
 * Source      facts M22; derived
 * Checked by  harmonic-response.test.ts (`quasiStaticHarmonic`, weak-field series)
 */
export function equilibriumHarmonics({ harmonic, biasRatio }: HarmonicSet): (logXi: number) => Float64Array {
  const highest = Math.max(...Array.from(harmonic));
  return (logXi) => {
    const xi = Math.exp(logXi);
    const samples = 2 * Math.ceil((40 / Math.asinh(Math.PI / (xi * (1 + Math.abs(biasRatio)))) + highest) / 2) + 2;
    const sums = new Float64Array(highest + 1);
    // cos theta is even: one half of the turn, its ends counted once
    for (let i = 0; i <= samples / 2; i++) {
      const cosine = Math.cos((2 * Math.PI * i) / samples);
      const ends = i === 0 || 2 * i === samples ? 1 : 2;
      const value = (2 / samples) * ends * langevin(xi * (cosine + biasRatio));
      // cos k theta by the recurrence of Chebyshev polynomials
      let [before, now] = [1, cosine];
      for (let k = 1; k <= highest; k++) {
        sums[k] += value * now;
        [before, now] = [now, 2 * cosine * now - before];
      }
    }
    return Float64Array.from({ length: 2 * harmonic.length }, (_, j) => (j % 2 === 0 ? sums[harmonic[j / 2]] : 0));
  };
}

/**
 * Samples of a period that keep what folds back onto harmonic k below 1e-7: in equilibrium, the steepest case, harmonics
 * fall as e^(-k asinh(pi/xi)), and sampling adds harmonic N - k to k.
 */
const brownianSamples = (highest: number, largestXi: number): number =>
  2 ** Math.ceil(Math.log2(Math.max(64, highest + 16 / Math.asinh(Math.PI / largestXi))));

/**
 * Harmonics of particles that turn by Brownian rotation (Fokker-Planck), for several xi at one w tau.
 *
 * @param logXi  [n]
 * @returns one [2K] for each
 *
 * Source      as `brownianMagnetisation`
 */
export function brownianHarmonics({
  harmonic,
  biasRatio,
}: HarmonicSet): (logXi: readonly number[], logOmegaTau: number) => Float64Array[] {
  const highest = Math.max(...Array.from(harmonic));
  // w = 1: a period of 2 pi, so that the Brown time is w tau itself
  const field = { period_s: 2 * Math.PI, field_T: (time_s: number) => Math.cos(time_s) + biasRatio };
  return (logXi, logOmegaTau) => {
    const xiPerTesla = Float64Array.from(logXi, Math.exp);
    const samples = brownianSamples(highest, (1 + Math.abs(biasRatio)) * Math.max(...xiPerTesla));
    const brownTime_s = new Float64Array(logXi.length).fill(Math.exp(logOmegaTau));
    const { responses } = finishSteps(
      brownianResponsesSteps(field, { xiPerTesla, brownTime_s }, { samples, tolerance: 3e-6 }),
    );
    return logXi.map((_, p) => spectrumOf(responses.subarray(p * samples, (p + 1) * samples), harmonic));
  };
}

/** m_k = (2/N) sum_i x_i e^(-i k 2 pi i/N). */
function spectrumOf(waveform: Float64Array, harmonic: ArrayLike<number>): Float64Array {
  const n = waveform.length;
  const out = new Float64Array(2 * harmonic.length);
  for (let k = 0; k < harmonic.length; k++)
    for (let i = 0; i < n; i++) {
      const angle = (2 * Math.PI * ((harmonic[k] * i) % n)) / n;
      out[2 * k] += (2 / n) * waveform[i] * Math.cos(angle);
      out[2 * k + 1] -= (2 / n) * waveform[i] * Math.sin(angle);
    }
  return out;
}
