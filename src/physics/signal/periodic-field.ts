import { FerruleError } from "../../errors.js";
import { requirePositive } from "../particle/ranges.js";

/**
 * A drive that repeats: mu0*H along one axis, T, as a function of time in s.
 * Solvers sample it; kinks (pulses) cost them accuracy only where they are steeper than a sample can see.
 */
export interface PeriodicField {
  readonly period_s: number;
  readonly field_T: (time_s: number) => number;
}

/** A cos(2 pi f t) + bias, the convention of the spectra (drive phase 0). */
export function cosineDrive(amplitude_T: number, frequency_Hz: number, { bias_T = 0 } = {}): PeriodicField {
  requirePositive(frequency_Hz, "frequency_Hz", "25e3 (25 kHz)");
  requirePositive(amplitude_T, "amplitude_T", "20e-3 (20 mT)");
  const omega = 2 * Math.PI * frequency_Hz;
  return { period_s: 1 / frequency_Hz, field_T: (time_s) => bias_T + amplitude_T * Math.cos(omega * time_s) };
}

/** A sin(2 pi f t) + bias: the same drive a quarter period later. */
export function sineDrive(amplitude_T: number, frequency_Hz: number, { bias_T = 0 } = {}): PeriodicField {
  const { period_s, field_T } = cosineDrive(amplitude_T, frequency_Hz, { bias_T });
  return { period_s, field_T: (time_s) => field_T(time_s - period_s / 4) };
}

/** A triangle of peak A: constant field rate 4 A f, up and down. Starts at its positive peak, as the cosine does. */
export function triangleDrive(amplitude_T: number, frequency_Hz: number, { bias_T = 0 } = {}): PeriodicField {
  requirePositive(frequency_Hz, "frequency_Hz", "25e3 (25 kHz)");
  requirePositive(amplitude_T, "amplitude_T", "20e-3 (20 mT)");
  const shape = (phase: number) => 4 * Math.abs(phase - Math.round(phase)) - 1;
  return {
    period_s: 1 / frequency_Hz,
    field_T: (time_s) => bias_T - amplitude_T * shape(time_s * frequency_Hz),
  };
}

/**
 * Near-square pulses of peak A: plateaus at +A and -A joined by half-cosine edges of `riseTime_s` (so that the field rate
 * stays finite). Starts in the middle of the positive plateau.
 */
export function pulsedDrive(
  amplitude_T: number,
  frequency_Hz: number,
  { riseTime_s, bias_T = 0 }: { riseTime_s: number; bias_T?: number },
): PeriodicField {
  requirePositive(frequency_Hz, "frequency_Hz", "2.5e3 (2.5 kHz)");
  requirePositive(amplitude_T, "amplitude_T", "20e-3 (20 mT)");
  const share = riseTime_s * frequency_Hz;
  if (!(share > 0 && share <= 0.5))
    throw new FerruleError("InvalidValue", {
      path: "riseTime_s",
      found: `${riseTime_s} s at ${frequency_Hz} Hz`,
      accepted: "a time above 0 and up to half a period, e.g. 2e-6 (2 us)",
    });
  // Distance, in periods, from the middle of the falling edge at 1/4; the wave is even about 0.
  const at = (phase: number) => {
    const fromEdge = Math.abs(phase - Math.round(phase)) - 0.25;
    if (Math.abs(fromEdge) >= share / 2) return fromEdge < 0 ? 1 : -1;
    return -Math.sin((Math.PI * fromEdge) / share);
  };
  return { period_s: 1 / frequency_Hz, field_T: (time_s) => bias_T + amplitude_T * at(time_s * frequency_Hz) };
}

/** Values of a drive at n even times of one period, T, shape [n]. */
export function sampleField({ period_s, field_T }: PeriodicField, samples: number): Float64Array {
  return Float64Array.from({ length: samples }, (_, i) => field_T((i * period_s) / samples));
}
