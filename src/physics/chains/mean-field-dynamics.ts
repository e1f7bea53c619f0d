import { FerruleError } from "../../errors.js";
import { finishSteps, partOf, type Steps } from "../../numerics/index.js";
import { requireBetween, requirePositive } from "../particle/ranges.js";
import { defaultSamples, type PeriodicMagnetisation } from "../relaxation/periodic-magnetisation.js";
import type { PeriodicField } from "../signal/periodic-field.js";
import type { ChainNodes } from "./chain-magnetisation.js";
import { type CoreSizesInChain, coresFromNodes, emptyResponse, respond } from "./core-response.js";
import { implicitStep, type ScalarRate } from "./implicit-step.js";
import { requireCoupling } from "./local-field.js";
import type { ChainStart } from "./mean-field.js";

export interface MeanFieldDynamicsOptions {
  /** Coupling, 0 to 1e8; that of the mean moment when there are several sizes. */
  readonly kappa: number;
  readonly relaxationTime_s: number;
  /** How many even times of the period are returned. */
  readonly samples?: number;
  /** Where the chains were before the drive: matters when it is too weak to turn them. Default demagnetised. */
  readonly start?: ChainStart;
  /** Error of M/Ms per step. */
  readonly tolerance?: number;
}

/**
 * Magnetisation of the mean-field chain that follows its equilibrium with one relaxation time, in periodic steady state.
 *   tau dM/dt = L(xi(t) + kappa M) - M
 * A slow drive gives the quasi-static loop; the faster, the later the jump: the dynamic coercive field grows.
 *
 * @param drive  mu0H over a period; kinks cost accuracy only within a step
 * @param nodes  xi per tesla and share of the moment of each size; one size: arrays of length 1
 *
 * Valid for   one rate for all sizes and fields: a model of lag, not of its mechanism. History-dependent: its response is
 *             no convolution in the field-free position. kappa is an effective parameter.
 * Source      relaxation towards M = L(xi + kappa M), facts C5; the form is ours
 * Checked by  checks/chains (scipy Radau), mean-field-dynamics.test.ts (limits)
 */
export function meanFieldDynamics(
  drive: PeriodicField,
  nodes: ChainNodes,
  options: MeanFieldDynamicsOptions,
): PeriodicMagnetisation {
  return finishSteps(meanFieldDynamicsSteps(drive, nodes, options));
}

/** The same in steps, for drives that take many periods to settle. */
export function* meanFieldDynamicsSteps(
  drive: PeriodicField,
  nodes: ChainNodes,
  { start = "demagnetised", tolerance = 1e-9, samples = defaultSamples, ...model }: MeanFieldDynamicsOptions,
): Steps<PeriodicMagnetisation> {
  requireCoupling(model.kappa);
  requirePositive(model.relaxationTime_s, "relaxationTime_s", "1e-6 (1 us)");
  requireBetween(tolerance, [1e-13, 1e-2], { path: "tolerance", example: "1e-9" });
  if (!(Number.isInteger(samples) && samples >= 4))
    throw new FerruleError("InvalidValue", {
      path: "samples",
      found: String(samples),
      accepted: "a whole number from 4, e.g. 1024",
    });
  const period = periodMap(drive, nodes, { ...model, samples, tolerance });
  if (start !== "demagnetised") return yield* steadyState(period, start === "upper" ? 1 : -1);
  const up = yield* partOf(steadyState(period, 1), 0, 0.5);
  const down = yield* partOf(steadyState(period, -1), 0.5, 1);
  return {
    magnetisation: up.magnetisation.map((m, i) => (m + down.magnetisation[i]) / 2),
    outcome: up.outcome === "converged" ? down.outcome : up.outcome,
    detail: {
      periods: up.detail.periods + down.detail.periods,
      moments: 0,
      steps: Math.max(up.detail.steps, down.detail.steps),
      errorEstimate: Math.max(up.detail.errorEstimate, down.detail.errorEstimate),
    },
  };
}

interface OnePeriod {
  readonly magnetisation: Float64Array;
  /** M after the period. */
  readonly end: number;
  /** d end / d start. */
  readonly contraction: number;
  /** Largest error over the period: those of the steps, each shrunk or grown by what follows it. */
  readonly error: number;
  readonly steps: number;
}

const mostPeriods = 400;

/**
 * Runs on until the period repeats. Trajectories of a scalar equation never cross, so that from saturation the starts
 * fall (or rise) steadily to the nearest steady state. Where a period forgets little of its start, longer strides in the
 * same direction replace the wait: Newton's on end(start) - start where the starts contract, all of them short enough
 * not to leap over a steady state unseen.
 */
function* steadyState(period: (start: number) => OnePeriod, first: number): Steps<PeriodicMagnetisation> {
  let start = first;
  for (let periods = 1; ; periods++) {
    const run = period(start);
    const change = run.end - start;
    // What remains to the fixed point is the change over 1 - contraction.
    const remaining = Math.abs(change) / Math.max(1e-3, 1 - run.contraction);
    const isDone = remaining <= 1e-11;
    if (isDone || periods === mostPeriods)
      return {
        magnetisation: run.magnetisation,
        outcome: isDone ? "converged" : "iteration-limit",
        detail: { periods, moments: 0, steps: run.steps, errorEstimate: run.error + remaining },
      };
    start = Math.min(1, Math.max(-1, start + stride(change, run.contraction)));
    yield periods / mostPeriods;
  }
}

const longestStride = 0.02;

function stride(change: number, contraction: number): number {
  if (contraction <= 0.5 || Math.abs(change) >= longestStride) return change;
  const wanted = contraction < 1 ? Math.abs(change) / (1 - contraction) : longestStride;
  return Math.sign(change) * Math.min(wanted, longestStride);
}

/** One period from a given start, landing on every sample time. */
function periodMap(
  { period_s, field_T }: PeriodicField,
  nodes: ChainNodes,
  { kappa, relaxationTime_s, samples, tolerance }: MeanFieldDynamicsOptions & { samples: number; tolerance: number },
): (start: number) => OnePeriod {
  const { cores, meanXiPerTesla } = coresFromNodes(nodes);
  const rate = chainRate((time_s) => meanXiPerTesla * field_T(time_s), { kappa, relaxationTime_s, cores });
  return (start) => {
    const magnetisation = new Float64Array(samples);
    let m = start;
    let steps = 0;
    let logContraction = 0;
    let [error, largestError] = [0, 0];
    let trial_s = period_s / samples;
    for (let k = 0; k < samples; k++) {
      magnetisation[k] = m;
      const end_s = ((k + 1) * period_s) / samples;
      let time_s = (k * period_s) / samples;
      while (time_s < end_s) {
        const isLast = time_s + trial_s >= end_s * (1 - 1e-15);
        const step_s = isLast ? end_s - time_s : trial_s;
        const step = implicitStep(rate, [time_s, m], step_s);
        const ratio = step === undefined ? 81 : step.error / tolerance;
        if (step !== undefined && ratio <= 1) {
          m = step.value;
          time_s = isLast ? end_s : time_s + step_s;
          logContraction += step.logContraction;
          error = error * Math.exp(step.logContraction) + step.error;
          largestError = Math.max(largestError, error);
          steps++;
        }
        // The estimate falls as the fourth power of the step.
        const next_s = step_s * Math.min(4, Math.max(0.2, 0.9 * ratio ** -0.25));
        // A step cut short by a sample time says little about the one that could have been taken.
        trial_s = isLast && ratio <= 1 ? Math.max(trial_s, next_s) : next_s;
        requireProgress(trial_s, period_s);
      }
    }
    return { magnetisation, end: m, contraction: Math.exp(logContraction), error: largestError, steps };
  };
}

function chainRate(
  xiAt: (time_s: number) => number,
  { kappa, relaxationTime_s, cores }: { kappa: number; relaxationTime_s: number; cores: CoreSizesInChain },
): ScalarRate {
  const response = emptyResponse();
  const out = { rate: 0, slope: 0 };
  return (time_s, m) => {
    respond(xiAt(time_s) + kappa * m, cores, response);
    out.rate = (response.value - m) / relaxationTime_s;
    out.slope = (kappa * response.slope - 1) / relaxationTime_s;
    return out;
  };
}

function requireProgress(step_s: number, period_s: number): void {
  if (step_s > 1e-15 * period_s) return;
  throw new FerruleError("InvalidValue", {
    path: "drive.field_T",
    found: "a field that changes faster than any step",
    accepted: "a finite, continuous field, e.g. pulses with a rise time",
  });
}
