import { FerruleError } from "../errors.js";
import type { Axis } from "../physics/index.js";
import { toUnit, unitThatSuits } from "../units/index.js";
import { requirePositive } from "./ranges.js";

/** How the drive goes from its negative to its positive peak. Edges of pulses are half cosines. */
export type DriveWaveform =
  | { readonly kind: "sine" }
  | { readonly kind: "trapezoid"; readonly rampTime_s: number }
  | { readonly kind: "pulsed"; readonly riseTime_s: number };

export interface Drive {
  readonly axis: Axis;
  /** *Peak* mu0H (zero to peak) at the subject. */
  readonly amplitude_T: number;
  readonly frequency_Hz: number;
  /** Sine when not given. */
  readonly waveform?: DriveWaveform;
  /** Part of the time the drive is on, within any averaging time of a heating limit; 1 when not given. */
  readonly duty?: number;
}

/** A slow field that ramps between -amplitude and +amplitude. */
export interface ShiftField {
  readonly axis: Axis;
  readonly amplitude_T: number;
  readonly slew_T_per_s: number;
}

/** One rise of the field from peak to peak, and the heating rate of the whole period. */
export interface FieldSwing {
  readonly change_T: number;
  readonly duration_s: number;
  readonly meanRate_T_per_s: number;
  readonly peakRate_T_per_s: number;
  /** <(dB/dt)^2> over a period while the drive is on. */
  readonly meanSquareRate_T2_per_s2: number;
}

/**
 * The swing of a drive.
 *   dB = 2 A in d:  sine d = 1/(2 f);  trapezoid d = ramp time;  pulsed d = rise time
 *   mean rate 2 A/d;  peak rate (pi/2) 2 A/d for sine and half-cosine edges, 2 A/d for straight ramps
 *   <(dB/dt)^2> = (2 A/d)^2 2 d f s,  s = 1 for straight ramps, pi^2/8 for sine and half-cosine edges
 *
 * Valid for   a field that rests between its edges
 * Source      definitions; derived. d = 1/(2 f) is our convention for a sine; 1/(pi f) is in use too.
 * Checked by  checks/limits (quadrature of the waveforms)
 */
export function driveSwing({ amplitude_T, frequency_Hz, waveform = { kind: "sine" } }: Drive): FieldSwing {
  requirePositive(amplitude_T, "amplitude_T", "6e-3 (6 mT peak)");
  requirePositive(frequency_Hz, "frequency_Hz", "25e3 (25 kHz)");
  const duration_s = swingDuration_s(waveform, frequency_Hz);
  const change_T = 2 * amplitude_T;
  const meanRate_T_per_s = change_T / duration_s;
  const isStraight = waveform.kind === "trapezoid";
  return {
    change_T,
    duration_s,
    meanRate_T_per_s,
    peakRate_T_per_s: isStraight ? meanRate_T_per_s : (Math.PI / 2) * meanRate_T_per_s,
    meanSquareRate_T2_per_s2:
      meanRate_T_per_s ** 2 * 2 * duration_s * frequency_Hz * (isStraight ? 1 : Math.PI ** 2 / 8),
  };
}

/** The swing of a slow shift field: -A to +A at a constant rate. A shorter ramp at the same slew stimulates less. */
export function shiftSwing({ amplitude_T, slew_T_per_s }: ShiftField): Omit<FieldSwing, "meanSquareRate_T2_per_s2"> {
  requirePositive(amplitude_T, "amplitude_T", "40e-3 (40 mT peak)");
  requirePositive(slew_T_per_s, "slew_T_per_s", "2 (2 T/s)");
  const change_T = 2 * amplitude_T;
  const rate = { meanRate_T_per_s: slew_T_per_s, peakRate_T_per_s: slew_T_per_s };
  return { change_T, duration_s: change_T / slew_T_per_s, ...rate };
}

/** "drive z at 25 kHz": how a drive is called in every line about it. */
export function driveName({ axis, frequency_Hz }: Drive): string {
  return `drive ${axis} at ${frequencyName(frequency_Hz)}`;
}

/** Seven digits, so that two drives of nearly one frequency keep two names. */
export function frequencyName(frequency_Hz: number): string {
  const unit = unitThatSuits(frequency_Hz, "frequency");
  return `${Number(toUnit(frequency_Hz, unit).toPrecision(7))} ${unit}`;
}

/** The part of the time the drive is on, or a refusal. */
export function dutyOf({ duty = 1 }: Drive): number {
  if (duty > 0 && duty <= 1) return duty;
  throw new FerruleError("InvalidValue", {
    path: "duty",
    found: String(duty),
    accepted: "the part of the time the drive is on, above 0 and up to 1, e.g. 0.5",
  });
}

function swingDuration_s(waveform: DriveWaveform, frequency_Hz: number): number {
  const half_s = 0.5 / frequency_Hz;
  if (waveform.kind === "sine") return half_s;
  const [edge_s, path] =
    waveform.kind === "trapezoid"
      ? [waveform.rampTime_s, "waveform.rampTime_s"]
      : [waveform.riseTime_s, "waveform.riseTime_s"];
  if (edge_s > 0 && edge_s <= half_s * (1 + 1e-12)) return edge_s;
  throw new FerruleError("InvalidValue", {
    path,
    found: `${edge_s} s at ${frequency_Hz} Hz`,
    accepted: `a time above 0 and up to half a period, ${half_s} s`,
  });
}
