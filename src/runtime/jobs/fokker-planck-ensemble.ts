import { FerruleError } from "../../errors.js";
import {
  type BrownianParticles,
  type BrownianResponses,
  brownianChunk,
  type PeriodicMagnetisation,
  weightedSum,
} from "../../physics/index.js";
import { type Drive, isOfDrive } from "./drive.js";
import type { Job } from "./job.js";

/** Many kinds of particle that turn by Brownian rotation, under one drive. */
export interface FokkerPlanckEnsemble {
  readonly drive: Drive;
  /** Arrays of shape [particles]; `weight` is the share of each kind in the saturated moment. */
  readonly particles: BrownianParticles & { readonly weight: Float64Array };
  /** As in `brownianEnsemble`. */
  readonly samples?: number;
  readonly tolerance?: number;
}

export interface FokkerPlanckShare {
  readonly drive: Drive;
  readonly particles: BrownianParticles;
  readonly samples?: number;
  readonly tolerance?: number;
}

/** The weighted magnetisation, and the response of each kind on its own, [particles, samples]: fits reweight it. */
export interface FokkerPlanckAnswer extends PeriodicMagnetisation {
  readonly responses: Float64Array;
}

/** `brownianEnsemble` for the pool: the same bits. Its chunks are those of the method, `brownianChunk` particles each. */
export const fokkerPlanckEnsemble: Job<FokkerPlanckEnsemble, FokkerPlanckShare, BrownianResponses, FokkerPlanckAnswer> =
  {
    name: "fokker-planck-ensemble",
    chunks({ particles }) {
      requireShapes(particles);
      return Math.ceil(particles.xiPerTesla.length / brownianChunk);
    },
    share({ drive, particles: { xiPerTesla, brownTime_s }, samples, tolerance }, chunk) {
      const [from, to] = [chunk * brownianChunk, (chunk + 1) * brownianChunk];
      return {
        drive,
        particles: { xiPerTesla: xiPerTesla.slice(from, to), brownTime_s: brownTime_s.slice(from, to) },
        ...(samples === undefined ? {} : { samples }),
        ...(tolerance === undefined ? {} : { tolerance }),
      };
    },
    combine(parts, { particles }) {
      const responses = joined(parts.map((part) => part.responses));
      const details = parts.map(({ detail }) => detail);
      return {
        responses,
        magnetisation: weightedSum(responses, particles.weight),
        outcome: parts.find(({ outcome }) => outcome !== "converged")?.outcome ?? "converged",
        detail: {
          periods: details.reduce((sum, { periods }) => sum + periods, 0),
          moments: Math.max(...details.map(({ moments }) => moments)),
          steps: Math.max(...details.map(({ steps }) => steps)),
          errorEstimate: Math.max(...details.map(({ errorEstimate }) => errorEstimate)),
        },
      };
    },
    /** `xiPerTesla[3]` of the third chunk is `particles.xiPerTesla[19]`. */
    relocate(path, chunk) {
      if (isOfDrive(path)) return `drive.${path}`;
      const [, name, index] = /^(xiPerTesla|brownTime_s)\[(\d+)\]$/.exec(path) ?? [];
      return name === undefined ? path : `particles.${name}[${Number(index) + chunk * brownianChunk}]`;
    },
  };

function joined(arrays: readonly Float64Array[]): Float64Array {
  const whole = new Float64Array(arrays.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const array of arrays) {
    whole.set(array, at);
    at += array.length;
  }
  return whole;
}

function requireShapes({ xiPerTesla, brownTime_s, weight }: FokkerPlanckEnsemble["particles"]): void {
  const particles = xiPerTesla.length;
  for (const [name, array] of Object.entries({ brownTime_s, weight }))
    if (array.length !== particles || particles === 0)
      throw new FerruleError("ShapeMismatch", {
        path: `particles.${name}`,
        found: `length ${array.length} beside ${particles} particles`,
        accepted: "one value per particle, at least one particle",
      });
}
