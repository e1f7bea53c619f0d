import type { Steps } from "../../numerics/index.js";
import type { PeriodicField } from "../signal/periodic-field.js";
import { type Chunk, type ChunkOptions, type Closed, closeOn } from "./brownian-rounds.js";
import { legendreMoments } from "./legendre-moments.js";
import { radauNodes } from "./legendre-steps.js";
import { periodMesh, stageFields, stepsPerInterval } from "./period-mesh.js";
import { largestDifference } from "./periodic-closure.js";
import type { PeriodicMagnetisation } from "./periodic-magnetisation.js";

/** A tail above this adds moments: the answer errs by about its square. */
const largestTail = 1e-6;
const mostSteps = 2 ** 17;

/**
 * Periodic steady state of a few particles under one drive, to a tolerance, in small steps of work: on a coarse mesh, then
 * on meshes of half the step until two agree. The error estimate is their whole difference, and what the closing of the
 * period leaves. For smooth drives that is far too much (order 5: a 31st would do); where a drive has kinks inside steps,
 * as pulses have, errors fall irregularly and no less than the whole is safe.
 *
 * @returns M/Ms, shape [particles, samples]
 */
export function* solveChunk(field: PeriodicField, chunk: Chunk, options: ChunkOptions): Steps<PeriodicMagnetisation> {
  const { samples, tolerance } = options;
  const perInterval = stepsPerInterval(field, samples);
  let moments = 0;
  let periods = 0;
  let previous: Closed | undefined;
  for (let level = 0; ; level++) {
    const mesh = periodMesh(field.period_s, perInterval, level);
    const stageField_T = stageFields(field, mesh, radauNodes);
    if (moments === 0) moments = legendreMoments(largestXi(stageField_T, chunk.xiPerTesla));
    let closed = yield* closeOn({ ...mesh, stageField_T, moments }, chunk, { ...options, starts: previous?.starts });
    periods += closed.periods;
    while (closed.tail > largestTail && moments < 4096) {
      moments = Math.ceil(1.5 * moments);
      closed = yield* closeOn({ ...mesh, stageField_T, moments }, chunk, { ...options, starts: closed.starts });
      periods += closed.periods;
    }
    const { magnetisation } = closed;
    const errorEstimate =
      previous === undefined
        ? Number.POSITIVE_INFINITY
        : largestDifference(magnetisation, previous.magnetisation) + closed.closureError;
    const steps = mesh.step_s.length;
    const isDone = errorEstimate <= tolerance && closed.isClosed && closed.tail <= largestTail;
    // Finer steps do not help a period that cannot be closed well enough.
    const isHopeless = 2 * steps > mostSteps || closed.closureError > tolerance;
    if (isDone || (previous !== undefined && isHopeless))
      return {
        magnetisation,
        outcome: isDone ? "converged" : "iteration-limit",
        detail: { periods, moments, steps, errorEstimate },
      };
    previous = closed;
  }
}

function largestXi(stageField_T: Float64Array, xiPerTesla: Float64Array): number {
  let field_T = 0;
  for (const value of stageField_T) field_T = Math.max(field_T, Math.abs(value));
  return field_T * xiPerTesla.reduce((most, value) => Math.max(most, value), 0);
}
