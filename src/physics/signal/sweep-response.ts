import { FerruleError } from "../../errors.js";
import { requirePositive } from "../particle/ranges.js";

/** Point response of one half of a drive period, against the field passed at that moment. */
export interface SweepResponse {
  /** mu0H of the drive in ascending order, T, shape [n]; only where the drive moves fast enough. */
  readonly field_T: Float64Array;
  /** (dM/dt) / (dB/dt), 1/T, shape [n]. */
  readonly response_per_T: Float64Array;
  /** Field at which the response is largest, T. A lagging tracer answers late: above 0 when the field rises. */
  readonly peakField_T: number;
  readonly peak_per_T: number;
  /** False when the response still grows at the end of the sweep: it lags so far that its peak lies beyond the turning point. */
  readonly isPeakInside: boolean;
  /** Full width at half maximum, T; undefined where its peak or its fall to half lies beyond the sweep. */
  readonly width_T: number | undefined;
}

/** Where the field moves slower than this part of its largest rate, a quotient of rates says nothing. */
const slowestShare = 0.3;

/**
 * Point spread function as a drive writes it: a point tracer at rest, the field-free point swept over it.
 *   h(B) = (dM/dt) / (dB/dt)  at the field B(t) of the moment, forward (field rising) and backward (falling)
 * Without memory both are dM/dB, the static point spread function. Relaxation makes them lower, wider, late and lopsided.
 *
 * @param field_T  drive at even times of one period, [n]; @param magnetisation  M/Ms at the same times, [n]
 * @returns both sweeps; differences between neighbouring samples stand for the rates
 *
 * Valid for   drives with one rise and one fall per period (sine, triangle); not for pulses, whose edges pass in an
 *             instant. Widths err by about the spacing squared over the width squared: take 1000 samples or more.
 * Source      x-space signal over velocity: Goodwill et al., IEEE TMI 29:1851 (2010), from memory; facts M15, R1
 * Checked by  sweep-response.test.ts (static width 4.161048 kB T/m; a Debye memory by its own convolution)
 */
export function sweepResponse(
  field_T: Float64Array,
  magnetisation: Float64Array,
): { forward: SweepResponse; backward: SweepResponse } {
  const n = field_T.length;
  if (magnetisation.length !== n || n < 16)
    throw new FerruleError("ShapeMismatch", {
      path: "magnetisation",
      found: `${magnetisation.length} values for ${n} fields`,
      accepted: "as many as there are fields, at least 16, e.g. 1024 of one period",
    });
  const largest = largestStep(field_T);
  requirePositive(largest, "field_T", "samples of a drive that moves");
  const half = (sign: 1 | -1): SweepResponse => {
    const points: { field: number; response: number }[] = [];
    for (let i = 0; i < n; i++) {
      const next = (i + 1) % n;
      const step = field_T[next] - field_T[i];
      if (sign * step < slowestShare * largest) continue;
      const response = (magnetisation[next] - magnetisation[i]) / step;
      points.push({ field: (field_T[next] + field_T[i]) / 2, response });
    }
    points.sort((a, b) => a.field - b.field);
    return measured(points);
  };
  return { forward: half(1), backward: half(-1) };
}

function largestStep(field_T: Float64Array): number {
  const n = field_T.length;
  return field_T.reduce((most, value, i) => Math.max(most, Math.abs(field_T[(i + 1) % n] - value)), 0);
}

function measured(points: readonly { field: number; response: number }[]): SweepResponse {
  const field_T = Float64Array.from(points, ({ field }) => field);
  const response_per_T = Float64Array.from(points, ({ response }) => response);
  const top = response_per_T.reduce((best, value, i) => (value > response_per_T[best] ? i : best), 0);
  const peak = parabolaTop(field_T, response_per_T, top);
  const isPeakInside = top > 0 && top < field_T.length - 1;
  const right = crossing(field_T, response_per_T, { from: top, step: 1, level: peak.value / 2 });
  const left = crossing(field_T, response_per_T, { from: top, step: -1, level: peak.value / 2 });
  return {
    field_T,
    response_per_T,
    peakField_T: peak.at,
    peak_per_T: peak.value,
    isPeakInside,
    width_T: !isPeakInside || right === undefined || left === undefined ? undefined : right - left,
  };
}

/** Top of the parabola through the highest point and its neighbours. */
function parabolaTop(x: Float64Array, y: Float64Array, i: number): { at: number; value: number } {
  if (i === 0 || i === y.length - 1) return { at: x[i], value: y[i] };
  const [a, b] = [x[i - 1] - x[i], x[i + 1] - x[i]];
  const [u, v] = [(y[i - 1] - y[i]) / a, (y[i + 1] - y[i]) / b];
  const curvature = (v - u) / (b - a);
  if (!(curvature < 0)) return { at: x[i], value: y[i] };
  const slope = u - curvature * a;
  const shift = Math.max(a, Math.min(b, -slope / (2 * curvature)));
  return { at: x[i] + shift, value: y[i] + slope * shift + curvature * shift * shift };
}

/** Field at which the response first falls to a level, going away from its peak. */
function crossing(
  x: Float64Array,
  y: Float64Array,
  { from, step, level }: { from: number; step: 1 | -1; level: number },
): number | undefined {
  for (let i = from; i + step >= 0 && i + step < y.length; i += step) {
    const [high, low] = [y[i], y[i + step]];
    if (low > level) continue;
    return x[i] + ((high - level) / (high - low)) * (x[i + step] - x[i]);
  }
  return undefined;
}
