import { type BrownianOptions, brownianMagnetisation } from "./brownian-fokker-planck.js";
import type { PeriodicMagnetisation } from "./periodic-magnetisation.js";

/** One harmonic of a periodic waveform: x(t) holds amplitude * cos(n w t + phase_rad). */
export interface Harmonic {
  readonly amplitude: number;
  readonly phase_rad: number;
}

/**
 * Harmonic of a waveform that is given at even times of its period.
 *   m_n = (2/N) sum_k x_k e^(-i n 2 pi k/N),  x = Re sum_n m_n e^(i n w t)
 *
 * @param waveform  [N], from time 0
 * @param order  n, from 1 below N/2; the mean is not a harmonic of this kind
 */
export function waveformHarmonic(waveform: Float64Array, order: number): Harmonic {
  const n = waveform.length;
  let re = 0;
  let im = 0;
  for (let k = 0; k < n; k++) {
    // The product is reduced before it becomes an angle: high orders keep all their digits.
    const angle = (2 * Math.PI * ((order * k) % n)) / n;
    re += waveform[k] * Math.cos(angle);
    im -= waveform[k] * Math.sin(angle);
  }
  return { amplitude: (2 / n) * Math.hypot(re, im), phase_rad: Math.atan2(im, re) };
}

/**
 * Steady magnetisation of Brownian particles under cos wt, in the two numbers that fix it.
 *
 * @param driveXi  xi at the peak of the drive
 * @param omegaTau  w tau_B
 * @returns M/Ms over one period of cos wt, [samples]
 *
 * Valid for, Source, Checked by   as `brownianMagnetisation`
 */
export function brownianUnderCosine(
  driveXi: number,
  omegaTau: number,
  options: BrownianOptions = {},
): PeriodicMagnetisation {
  const field = { period_s: 2 * Math.PI, field_T: Math.cos };
  return brownianMagnetisation(field, { xiPerTesla: driveXi, brownTime_s: omegaTau }, options);
}
