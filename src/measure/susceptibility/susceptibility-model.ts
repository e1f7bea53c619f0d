/** chi' and chi'' of a spectrum, one after the other: [chi'_1 .. chi'_n, chi''_1 .. chi''_n]. */
export type StackedSusceptibility = Float64Array;

/**
 * One relaxation time.
 *   chi = chi_inf + (chi_0 - chi_inf) / (1 + i w tau),  chi = chi' - i chi''
 *
 * @param frequency_Hz  [n]
 * @param out  [2n]: chi', then chi''
 *
 * Valid for   fields small enough for a linear answer
 * Source      Debye; Rosensweig, JMMM 252:370 (2002); facts R4, from memory
 * Checked by  checks/tracer-fit (scipy)
 */
export function debyeSusceptibility(
  frequency_Hz: Float64Array,
  { static: low, highFrequency, relaxationTime_s }: { static: number; highFrequency: number; relaxationTime_s: number },
  out: StackedSusceptibility = new Float64Array(2 * frequency_Hz.length),
): StackedSusceptibility {
  const n = frequency_Hz.length;
  for (let i = 0; i < n; i++) {
    const x = 2 * Math.PI * frequency_Hz[i] * relaxationTime_s;
    const inPhase = 1 / (1 + x * x);
    out[i] = highFrequency + (low - highFrequency) * inPhase;
    out[n + i] = (low - highFrequency) * x * inPhase;
  }
  return out;
}

/**
 * Brownian relaxation of log-normal hydrodynamic diameters.
 *   chi = chi_inf + (chi_0 - chi_inf) < 1 / (1 + i w tau_B(d_H)) >,  ln tau_B = ln tau_B(d_0) + 3 s z, z normal
 * Number average: every particle carries the same chi_0, whatever its shell (cores independent of hydrodynamic size).
 *
 * Trapezoid rule in z. In ln tau the integrand has its poles at +-i pi/2: steps of 0.25 there leave e^(-39); in z steps of
 * 0.5 leave e^(-79) of the normal density.
 *
 * Valid for   blocked moments (Neel time long against Brown time), log-sd from 0 to 1.2
 * Source      facts R4, R6; average derived
 * Checked by  checks/tracer-fit (scipy quad and least_squares)
 */
export function brownSusceptibility(
  frequency_Hz: Float64Array,
  {
    static: low,
    highFrequency,
    medianTime_s,
    logSd,
  }: { static: number; highFrequency: number; medianTime_s: number; logSd: number },
  out: StackedSusceptibility = new Float64Array(2 * frequency_Hz.length),
): StackedSusceptibility {
  const n = frequency_Hz.length;
  const step = Math.min(0.5, 0.25 / (3 * logSd));
  const half = logSd === 0 ? 0 : Math.ceil(7 / step);
  const times = new Float64Array(2 * half + 1);
  const weight = new Float64Array(2 * half + 1);
  let total = 0;
  for (let j = 0; j < times.length; j++) {
    const z = (j - half) * (logSd === 0 ? 0 : step);
    times[j] = medianTime_s * Math.exp(3 * logSd * z);
    weight[j] = Math.exp((-z * z) / 2);
    total += weight[j];
  }
  for (let i = 0; i < n; i++) {
    let [inPhase, lagging] = [0, 0];
    for (let j = 0; j < times.length; j++) {
      const x = 2 * Math.PI * frequency_Hz[i] * times[j];
      const part = weight[j] / (1 + x * x);
      inPhase += part;
      lagging += x * part;
    }
    out[i] = highFrequency + ((low - highFrequency) * inPhase) / total;
    out[n + i] = ((low - highFrequency) * lagging) / total;
  }
  return out;
}
