import { FerruleError } from "../../errors.js";
import { nextPoisson } from "./poisson.js";
import { advance, nextOpenUnit, sfc64State } from "./sfc64.js";
import { streamKey } from "./stream-key.js";
import { nextNormal } from "./ziggurat.js";

/** A seeded source of random numbers. Passing it on passes its position: two users of one stream share its sequence. */
export interface RandomStream {
  /** Uniform in the open interval (0, 1). */
  uniform(): number;
  /** Standard normal. */
  normal(): number;
  /** Poisson with this mean (0 to 1e15). */
  poisson(mean: number): number;
  /** Whole number from 0 to count − 1, each equally likely. */
  integerBelow(count: number): number;
  /** Fills with standard normals; same sequence as repeated `normal()`. Returns `out`. */
  fillNormal(out: Float64Array): Float64Array;
  /** Fills with uniforms in (0, 1); same sequence as repeated `uniform()`. Returns `out`. */
  fillUniform(out: Float64Array): Float64Array;
}

/**
 * Fills `out` with standard normals and moves the generator's state (the ten words of sfc64.ts) on: a definition and its
 * twins have this one signature. Returns `out`.
 */
export type NormalKernel = (state: Int32Array, out: Float64Array) => Float64Array;

/** The definition. */
export const fillNormals: NormalKernel = (state, out) => {
  for (let i = 0; i < out.length; i++) out[i] = nextNormal(state);
  return out;
};

/**
 * The random stream of one chunk of one job.
 * The chunk count belongs to the job and not to the worker pool, so the numbers do not depend on how work is spread.
 *
 * @param seed  of the whole computation
 * @param job  which computation under that seed
 * @param chunk  which part of it
 *   all whole numbers from 0 to 2^53 − 1
 * @param options.normals  the hot loop of `fillNormal`, or a twin of it
 *
 * Generator: SFC64 (sfc64.ts) started from a hash of the triple (stream-key.ts), first 12 outputs dropped.
 * Normals: ziggurat. Poisson: PTRS. The sequence of a triple is part of the product: changing it changes results.
 * Checked by  checks/random, stream.test.ts
 */
export function stream(
  seed: number,
  job = 0,
  chunk = 0,
  { normals = fillNormals }: { normals?: NormalKernel } = {},
): RandomStream {
  const state = sfc64State(streamKey(seed, job, chunk), 1n);
  for (let i = 0; i < 12; i++) advance(state);
  return streamFrom(state, normals);
}

/** A stream over a given generator state (for checks against other implementations). */
export function streamFrom(state: Int32Array, normals: NormalKernel = fillNormals): RandomStream {
  return {
    uniform: () => nextOpenUnit(state),
    normal: () => nextNormal(state),
    poisson: (mean) => nextPoisson(state, mean),
    integerBelow: (count) => integerBelow(state, count),
    fillNormal: (out) => normals(state, out),
    fillUniform(out) {
      for (let i = 0; i < out.length; i++) out[i] = nextOpenUnit(state);
      return out;
    },
  };
}

/** 53 random bits, those beyond the last whole multiple of `count` rejected: no bias. */
function integerBelow(state: Int32Array, count: number): number {
  if (!(Number.isSafeInteger(count) && count >= 1))
    throw new FerruleError("InvalidValue", {
      path: "count",
      found: String(count),
      accepted: "a whole number from 1, e.g. 100",
    });
  const limit = 2 ** 53 - (2 ** 53 % count);
  for (;;) {
    advance(state);
    const bits = (state[9] >>> 0) * 2 ** 21 + (state[8] >>> 11);
    if (bits < limit) return bits % count;
  }
}
