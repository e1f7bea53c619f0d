import { fourierPlan } from "../../numerics/index.js";

/** Harmonics of a periodic waveform: x(t) = Re sum_k x_k e^{i k w t}, time 0 at the first sample. */
export interface ResponseSpectrum {
  /** Interleaved re, im of x_0 .. x_K, [2(K + 1)]. */
  readonly coefficients: Float64Array;
  /** |x_k|, [K + 1]. */
  readonly amplitude: Float64Array;
  /** Phase of x_k, rad, [K + 1]; 0 where the amplitude is rounding only. */
  readonly phase_rad: Float64Array;
}

/** An amplitude below this share of the largest is rounding: its phase means nothing. */
const rounding = 1e-12;

/**
 * Spectrum of a sampled period, in the sense used for particle spectra (amplitudes, not power; facts W9, W18).
 *   x_k = (2/n) sum_j x_j e^{-i 2 pi j k / n}  for k >= 1,  x_0 the mean
 * Multiply by i k w for the spectrum of the rate of change.
 *
 * @param waveform  even samples of one period, [n], any n
 * @param harmonics  highest harmonic K wanted; below n/2
 * Valid for   waveforms sampled finely enough: what lies above n/2 folds back
 * Source      discrete Fourier transform. Checked by response-spectrum.test.ts (facts W9)
 */
export function responseSpectrum(waveform: Float64Array, harmonics: number): ResponseSpectrum {
  const n = waveform.length;
  const count = Math.min(harmonics, Math.ceil(n / 2) - 1);
  const data = new Float64Array(2 * n);
  for (let i = 0; i < n; i++) data[2 * i] = waveform[i];
  fourierPlan(n).forward(data);
  const coefficients = new Float64Array(2 * (count + 1));
  for (let i = 0; i < coefficients.length; i++) coefficients[i] = (data[i] * (i < 2 ? 1 : 2)) / n;
  const amplitude = Float64Array.from({ length: count + 1 }, (_, k) =>
    Math.hypot(coefficients[2 * k], coefficients[2 * k + 1]),
  );
  const largest = amplitude.reduce((most, value) => Math.max(most, value), 0);
  const phase_rad = amplitude.map((value, k) =>
    value > rounding * largest ? Math.atan2(coefficients[2 * k + 1], coefficients[2 * k]) : 0,
  );
  return { coefficients, amplitude, phase_rad };
}

/** Largest rate of change of a sampled period, per second: fourth-order central differences at the samples. */
export function largestRate(waveform: Float64Array, period_s: number): number {
  const n = waveform.length;
  const step_s = period_s / n;
  const at = (i: number) => waveform[(i + n) % n];
  return waveform.reduce((most, _, i) => {
    const change = 8 * (at(i + 1) - at(i - 1)) - (at(i + 2) - at(i - 2));
    return Math.max(most, Math.abs(change) / (12 * step_s));
  }, 0);
}
