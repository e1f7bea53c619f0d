import { FerruleError } from "../../errors.js";
import { requireBetween } from "../particle/ranges.js";
import type { PeriodicField } from "../signal/periodic-field.js";

/** A period cut at its sample times, and each of these intervals into equal steps of its own. */
export interface PeriodMesh {
  /** Length of every step, s, shape [steps]. */
  readonly step_s: Float64Array;
  /** Start of every step, s, shape [steps]. */
  readonly start_s: Float64Array;
  /** Index of the step at whose end the k-th sample time lies; sample 0 is the end of the period, shape [samples]. */
  readonly sampleStep: Int32Array;
}

/** Looks at a drive this often within one sample interval before cutting it. */
const looksPerInterval = 16;

/** A step may pass at most this share of the drive's whole swing, at the coarsest. */
const swingPerStep = 1 / 32;

/**
 * The coarsest mesh for a drive: more steps where the field changes fast (the edges of pulses), `2^level` times as many
 * of them everywhere on finer levels, so that two levels share their sample times.
 *
 * @returns steps per sample interval at level 0, [samples]
 */
export function stepsPerInterval({ period_s, field_T }: PeriodicField, samples: number): Int32Array {
  const looks = samples * looksPerInterval;
  const values = Float64Array.from({ length: looks + 1 }, (_, i) => field_T((i * period_s) / looks));
  let low = values[0];
  let high = values[0];
  for (const value of values) {
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  const fewest = Math.ceil(16 / samples);
  return Int32Array.from({ length: samples }, (_, k) => {
    let travel = 0;
    for (let i = k * looksPerInterval; i < (k + 1) * looksPerInterval; i++)
      travel += Math.abs(values[i + 1] - values[i]);
    return high > low ? Math.max(fewest, Math.ceil(travel / ((high - low) * swingPerStep) - 1e-9)) : fewest;
  });
}

export function periodMesh(period_s: number, perInterval: Int32Array, level: number): PeriodMesh {
  const samples = perInterval.length;
  const factor = 2 ** level;
  const steps = factor * perInterval.reduce((sum, count) => sum + count, 0);
  const step_s = new Float64Array(steps);
  const start_s = new Float64Array(steps);
  const sampleStep = new Int32Array(samples);
  let at = 0;
  for (let k = 0; k < samples; k++) {
    const count = factor * perInterval[k];
    const interval_s = period_s / samples;
    for (let i = 0; i < count; i++) {
      step_s[at] = interval_s / count;
      start_s[at++] = interval_s * (k + i / count);
    }
    sampleStep[(k + 1) % samples] = at - 1;
  }
  return { step_s, start_s, sampleStep };
}

/**
 * mu0H at given fractions of every step, T, shape [steps, nodes].
 * @throws FerruleError InvalidValue where the drive is not a finite number
 */
export function stageFields({ field_T }: PeriodicField, mesh: PeriodMesh, nodes: readonly number[]): Float64Array {
  const { step_s, start_s } = mesh;
  const fields_T = new Float64Array(step_s.length * nodes.length);
  for (let s = 0; s < step_s.length; s++)
    for (let i = 0; i < nodes.length; i++) {
      const time_s = start_s[s] + nodes[i] * step_s[s];
      const value_T = field_T(time_s);
      if (!Number.isFinite(value_T)) throw notFinite(time_s, value_T);
      fields_T[s * nodes.length + i] = value_T;
    }
  return fields_T;
}

function notFinite(time_s: number, value_T: number): FerruleError {
  return new FerruleError("InvalidValue", {
    path: "field_T",
    found: `${value_T} T at ${time_s} s`,
    accepted: "a drive that is finite at every time, e.g. cosineDrive(20e-3, 25e3)",
  });
}

/** Refuses a tolerance that rounding cannot meet, or that means nothing. */
export function requireTolerance(tolerance: number): number {
  return requireBetween(tolerance, [1e-13, 0.1], { path: "tolerance", example: "1e-7" });
}

/** Refuses a number of samples that no period can have. */
export function requireSamples(samples: number): number {
  if (Number.isInteger(samples) && samples >= 2 && samples <= 65536) return samples;
  throw new FerruleError("InvalidValue", {
    path: "samples",
    found: String(samples),
    accepted: "a whole number of samples per period from 2 to 65536, e.g. 256",
  });
}
