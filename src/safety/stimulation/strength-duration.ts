import type { FieldSwing } from "../drive.js";

/** Rheobase (rate that just stimulates, however long it lasts) and chronaxie (duration that doubles it). */
export interface StrengthDuration {
  readonly rheobase_T_per_s: number;
  readonly chronaxie_s: number;
}

/**
 * Default whole-body values of the MRI standard.
 * Source      IEC 60601-2-33, 2022 edition, as quoted in public sequence-check documents; read (secondary)
 */
export const wholeBodyDefault: StrengthDuration = { rheobase_T_per_s: 20, chronaxie_s: 0.36e-3 };

/**
 * Part of the mean threshold that each operating mode of the standard admits.
 * Source      IEC 60601-2-33 as quoted in a manufacturer's MRI manual and in repository documents; percentages read,
 *             the formula L12 = rb (1 + 0.36 ms/t), L01 = 0.8 L12 from memory
 */
export const operatingModes = { normal: 0.8, firstLevel: 1 } as const;

/**
 * Rate of change that stimulates, for a rise of duration d.
 *   dB/dt = b (1 + c/d)
 *
 * @param duration_s  d, of one monotonic rise
 * @returns T/s
 * Valid for   gradient pulses of the trade, 0.05 to some ms; an extrapolation at drive frequencies, and measured to fail
 *             above about 25 kHz (see `measuredDeparture`)
 * Source      Bourland, Nyenhuis & Schaefer, Neuroimaging Clin. N. Am. 9:363 (1999), abstract; read
 * Checked by  checks/limits
 */
export function thresholdRate_T_per_s(
  duration_s: number,
  { rheobase_T_per_s: b, chronaxie_s: c }: StrengthDuration,
): number {
  return b * (1 + c / duration_s);
}

/**
 * The same threshold as a peak-to-peak change of the field.
 *   dB = d b (1 + c/d) = b (d + c);  b c as d goes to 0
 *
 * @returns T, peak to peak; half of it is the amplitude
 * Valid for, Source   as `thresholdRate_T_per_s`; mean rate over the rise
 * Checked by  checks/limits (W26: 17.2, 8.2, 7.6, 7.3 mT at 1, 10, 25, 100 kHz)
 */
export function thresholdChange_T(
  duration_s: number,
  { rheobase_T_per_s: b, chronaxie_s: c }: StrengthDuration,
): number {
  return b * (duration_s + c);
}

/**
 * Three readings of "rate" and "duration" that are in use. They agree for straight ramps; for a sine they differ by up to
 * 1.57.
 * - mean rate: change over the duration d of the rise (1/(2 f) for a sine). Ours.
 * - peak rate, effective duration: peak rate, and the time that the change would take at that rate (1/(pi f)); the
 *   standard's own effective stimulus duration, from memory.
 * - peak rate, whole rise: peak rate with d = 1/(2 f); the strictest.
 */
export type RateReading = "mean rate" | "peak rate, effective duration" | "peak rate, whole rise";

/**
 * Threshold of a swing as a peak-to-peak change, under one reading.
 *   mean rate: b (d + c);  effective: b (dB/peak rate + c);  whole rise: b (d + c) mean rate/peak rate
 *
 * Source      algebra of the hyperbola; derived. Checked by checks/limits.
 */
export function readThresholdChange_T(
  swing: Pick<FieldSwing, "change_T" | "duration_s" | "peakRate_T_per_s" | "meanRate_T_per_s">,
  fit: StrengthDuration,
  reading: RateReading,
): number {
  const { change_T, duration_s, peakRate_T_per_s, meanRate_T_per_s } = swing;
  if (reading === "mean rate") return thresholdChange_T(duration_s, fit);
  if (reading === "peak rate, effective duration") return thresholdChange_T(change_T / peakRate_T_per_s, fit);
  return thresholdChange_T(duration_s, fit) * (meanRate_T_per_s / peakRate_T_per_s);
}
