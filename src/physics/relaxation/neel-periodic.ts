import type { Steps } from "../../numerics/index.js";
import type { PeriodicField } from "../signal/periodic-field.js";
import { legendreMoments } from "./legendre-moments.js";
import type { LinearMotion } from "./linear-motion.js";
import { exactNeelTime_s } from "./neel-eigenvalue.js";
import { neelMotion } from "./neel-operator.js";
import { type PeriodMesh, periodMesh, stageFields, stepsPerInterval } from "./period-mesh.js";
import { largestDifference, nextStart, type Round } from "./periodic-closure.js";
import type { PeriodicMagnetisation } from "./periodic-magnetisation.js";
import { rosenbrockNodes, rosenbrockSteps } from "./rosenbrock-steps.js";

/** One kind of core whose moment turns inside it. */
export interface NeelParticle {
  /** xi per tesla, m/(kB T), 1/T. */
  readonly xiPerTesla: number;
  /** sigma = K V/(kB T), from 0 (no easy axis) up; negative: an easy plane. */
  readonly barrier: number;
  /** Free Neel time tau_N0 = m (1 + alpha^2)/(2 alpha gamma kB T), s. */
  readonly freeTime_s: number;
}

interface Problem extends NeelParticle {
  readonly field: PeriodicField;
  readonly cosAngle: number;
  readonly samples: number;
  readonly tolerance: number;
}

/** A tail above this adds degrees and orders. */
const largestTail = 1e-5;
const mostSteps = 2 ** 15;
const mostPeriods = 60;
/** Error estimate where the shares of the two wells are not determined: M/Ms itself. */
const undeterminedError = 1;

/**
 * Periodic steady state for one angle of the easy axis, refined like `solveChunk`: meshes of half the step until two agree,
 * their difference and what the closing leaves being the error estimate.
 */
export function* neelPeriodicSteps(problem: Problem): Steps<PeriodicMagnetisation> {
  const { field, cosAngle, samples, tolerance, xiPerTesla, barrier } = problem;
  const perInterval = stepsPerInterval(field, samples);
  const sinAngle = Math.sqrt(Math.max(0, 1 - cosAngle * cosAngle));
  let degrees = 0;
  let orders = 0;
  let start: Float64Array | undefined;
  let previous: Float64Array | undefined;
  let periods = 0;
  for (let level = 0; ; ) {
    const mesh = periodMesh(field.period_s, perInterval, level);
    const stageXi = stageFields(field, mesh, rosenbrockNodes).map((value) => xiPerTesla * value);
    if (degrees === 0) {
      const peakXi = stageXi.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
      degrees = legendreMoments(peakXi + 2 * Math.abs(barrier));
      // Around the axis only the field's part across it shapes the density.
      orders = legendreMoments(peakXi * sinAngle);
    }
    const motion = neelMotion({ ...problem, degrees, orders });
    const closed = yield* closedRounds(motion, { mesh, stageXi, samples, start, allowed: 0.01 * tolerance });
    periods += closed.periods;
    if (closed.tail > largestTail && degrees < 400) {
      degrees = Math.ceil(1.3 * degrees);
      orders = Math.ceil(1.3 * orders);
      start = undefined;
      previous = undefined;
      continue;
    }
    const { magnetisation } = closed;
    const steps = mesh.step_s.length;
    let errorEstimate =
      previous === undefined
        ? Number.POSITIVE_INFINITY
        : largestDifference(magnetisation, previous) + closed.closureError;
    if (isBlocked(problem, stageXi) && !closed.isMirrored) errorEstimate = undeterminedError;
    const isDone = errorEstimate <= tolerance && closed.isClosed && closed.tail <= largestTail;
    // Finer steps do not help a period that cannot be closed well enough.
    const isHopeless = 2 * steps > mostSteps || closed.closureError > tolerance || errorEstimate === undeterminedError;
    if (isDone || (previous !== undefined && isHopeless))
      return {
        magnetisation,
        outcome: isDone ? "converged" : "iteration-limit",
        detail: { periods, moments: motion.size, steps, errorEstimate },
      };
    start = closed.start;
    previous = magnetisation;
    level++;
  }
}

/**
 * Does so little cross the barrier in a period that rounding hides it? The share of cores in each well, and with it the mean
 * magnetisation, is then whatever the rounds began with. Upper bound of the crossing: zero-field rate times e^(peak xi).
 */
function isBlocked({ field, barrier, freeTime_s }: Problem, stageXi: Float64Array): boolean {
  if (barrier <= 0) return false;
  const peakXi = stageXi.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  return field.period_s * Math.exp(Math.min(700, peakXi)) < 1e-8 * exactNeelTime_s(barrier, freeTime_s);
}

interface ClosedRounds {
  readonly start: Float64Array;
  readonly magnetisation: Float64Array;
  readonly periods: number;
  readonly tail: number;
  readonly isClosed: boolean;
  /** Closed by the mirror image of half a period. */
  readonly isMirrored: boolean;
  /** What the mismatch of the last round may leave of error in a sample. */
  readonly closureError: number;
}

/** The stretch that is run in one round, and what relates its end to its start. */
interface Stretch {
  readonly stageXi: Float64Array;
  readonly step_s: Float64Array;
  /** Half a period, whose end is the mirror image of its start; else a whole one, which ends as it starts. */
  readonly isHalf: boolean;
}

/** Rounds of one stretch until it ends where it started; the mismatch allowed shrinks where rounds converge slowly. */
function* closedRounds(
  motion: LinearMotion,
  {
    mesh,
    stageXi,
    samples,
    start = new Float64Array(motion.size),
    allowed,
  }: { mesh: PeriodMesh; stageXi: Float64Array; samples: number; start?: Float64Array; allowed: number },
): Steps<ClosedRounds> {
  const stretch = stretchOf(mesh, stageXi, samples);
  const rounds: Round[] = [];
  const magnetisation = new Float64Array(samples);
  let current = start;
  let tail = 0;
  let isClosed = false;
  let closureError = Number.POSITIVE_INFINITY;
  while (!isClosed && rounds.length < mostPeriods) {
    const end = Float64Array.from(current);
    const result = yield* rosenbrockSteps(motion, end, stretch);
    tail = result.tail;
    if (stretch.isHalf) for (let i = 0; i < end.length; i++) end[i] *= motion.parity[i];
    setSamples(magnetisation, result.trace, { sampleStep: mesh.sampleStep, isHalf: stretch.isHalf });
    rounds.push({ start: current, end });
    closureError = largestDifference(current, end) / slowness(rounds);
    isClosed = closureError <= allowed;
    if (!isClosed) current = nextStart(rounds);
  }
  return {
    start: current,
    magnetisation,
    periods: rounds.length,
    tail,
    isClosed,
    isMirrored: stretch.isHalf,
    closureError,
  };
}

/**
 * A drive whose second half is the first reversed needs only that half: its end, mirrored, is its start. A blocked core's
 * memory of how it was magnetised, which no number of whole periods would clear, changes sign in the mirror and drops out.
 */
function stretchOf({ step_s }: PeriodMesh, stageXi: Float64Array, samples: number): Stretch {
  const steps = step_s.length / 2;
  const stages = stageXi.length / 2;
  const peak = stageXi.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  const isHalf =
    samples % 2 === 0 &&
    step_s.subarray(0, steps).every((step, s) => Math.abs(step - step_s[steps + s]) <= 1e-12 * step) &&
    stageXi.subarray(0, stages).every((xi, s) => Math.abs(xi + stageXi[stages + s]) <= 1e-12 * peak);
  if (!isHalf) return { stageXi, step_s, isHalf };
  return { stageXi: stageXi.subarray(0, stages), step_s: step_s.subarray(0, steps), isHalf };
}

function setSamples(
  out: Float64Array,
  trace: Float64Array,
  { sampleStep, isHalf }: { sampleStep: Int32Array; isHalf: boolean },
): void {
  const samples = out.length;
  if (!isHalf) for (let k = 0; k < samples; k++) out[k] = trace[sampleStep[k]];
  else
    for (let k = 1; k <= samples / 2; k++) {
      out[k] = trace[sampleStep[k]];
      out[(k + samples / 2) % samples] = -out[k];
    }
}

/**
 * How much of a difference one round takes away, |(x - x') - (F(x) - F(x'))| / |x - x'| for the last two rounds, along the
 * direction that is hardest to close by then: a mismatch r stands for an error of about r over this.
 */
function slowness(rounds: readonly Round[]): number {
  if (rounds.length < 2) return 1e-7;
  const [before, last] = rounds.slice(-2);
  let apart = 0;
  let taken = 0;
  for (let i = 0; i < last.start.length; i++) {
    const start = last.start[i] - before.start[i];
    apart = Math.max(apart, Math.abs(start));
    taken = Math.max(taken, Math.abs(start - (last.end[i] - before.end[i])));
  }
  return apart === 0 ? 1 : Math.min(1, Math.max(1e-7, taken / apart));
}
