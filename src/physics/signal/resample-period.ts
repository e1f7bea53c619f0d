import { fourierPlan } from "../../numerics/index.js";

/**
 * A sampled period at other even times: the trigonometric polynomial through its samples.
 *   exact for waveforms without harmonics from n/2 on
 *
 * @param waveform  one period, [n]; @param samples  how many are wanted
 * @returns [samples]; the first of both is time 0
 *
 * Valid for   more samples than there are (fewer drop the harmonics that they cannot carry)
 * Source      discrete Fourier transform. Checked by resample-period.test.ts
 */
export function resamplePeriod(waveform: Float64Array, samples: number): Float64Array {
  const n = waveform.length;
  if (samples === n) return waveform.slice();
  const data = new Float64Array(2 * n);
  for (let i = 0; i < n; i++) data[2 * i] = waveform[i];
  fourierPlan(n).forward(data);
  const kept = Math.ceil(Math.min(n, samples) / 2) - 1;
  const wide = new Float64Array(2 * samples);
  const scale = samples / n;
  for (let k = 0; k <= kept; k++) {
    wide[2 * k] = scale * data[2 * k];
    wide[2 * k + 1] = scale * data[2 * k + 1];
    if (k === 0) continue;
    wide[2 * (samples - k)] = scale * data[2 * (n - k)];
    wide[2 * (samples - k) + 1] = scale * data[2 * (n - k) + 1];
  }
  fourierPlan(samples).inverse(wide);
  return Float64Array.from({ length: samples }, (_, i) => wide[2 * i]);
}
