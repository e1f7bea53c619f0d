import { FerruleError } from "../../errors.js";
import { type NormalKernel, type RandomStream, type Steps, stream } from "../../numerics/index.js";
import { boltzmannConstant_J_per_K } from "../../units/index.js";
import { type MacrospinChain, stepOf, suggestedStep_s } from "./macrospin-chain.js";
import { chainsPerChunk, type MacrospinRun, macrospinChunks, requireRun } from "./macrospin-run.js";
import { type MacrospinBlock, type MacrospinKernel, macrospinSteps } from "./macrospin-steps.js";
import { type PlacedChains, placeChains } from "./place-chains.js";
import { turnAxes } from "./turn-axes.js";

/** Most steps of one kernel call; the random numbers do not depend on it. */
const stepsPerBlock = 32;

/** Floating axes turn after each call: by their own drift and diffusion no more than this, rad and rad^2. */
const axisTurnPerBlock = 0.02;

/** Sums over the chains of one chunk; those of all chunks are added in index order. */
export interface MacrospinSums {
  readonly chains: number;
  /** Moment of every spin along the field, summed over chains, shape [n, spins]. */
  readonly perSpin: Float64Array;
  /** Square of the chain's mean moment, summed over chains, shape [n]. */
  readonly squares: Float64Array;
  /** Moment of each chain along the field, mean over spins and times, shape [chains]. */
  readonly timeMeans: Float64Array;
}

/**
 * Moves one chunk of chains through the run. Its random numbers depend on (seed, job, chunk) only: first directions, axes
 * and moments where these are random, then the noise step by step.
 *
 * @param chunk  0 to macrospinChunks(run) - 1
 * @param options.kernel  the stepper, or a twin of it
 * @param options.normals  the hot loop of the random numbers, or a twin of it
 */
export function* macrospinChunk(
  chain: MacrospinChain,
  run: MacrospinRun,
  { chunk, kernel = macrospinSteps, normals }: { chunk: number; kernel?: MacrospinKernel; normals?: NormalKernel },
): Steps<MacrospinSums> {
  requireRun(run);
  requireChunk(run, chunk);
  const chains = Math.min(chainsPerChunk, run.chains - chunk * chainsPerChunk);
  const random = stream(run.seed, run.job ?? 0, chunk, normals === undefined ? {} : { normals });
  const placed = placeChains(chain, { ...run, chains }, random);
  const sums = emptySums(chain.spins, chains, run.times_s.length);
  const noise = new Float64Array(chain.temperature_K > 0 ? stepsPerBlock * placed.state.length : 0);
  let now_s = 0;
  for (let i = 0; i < run.times_s.length; i++) {
    const span_s = run.times_s[i] - now_s;
    // A whole number of steps; the small term keeps 10 / 1 at 10 steps when it comes out as 10.000000000000002.
    const steps = Math.ceil(span_s / run.step_s - 1e-9);
    const dt_s = span_s / steps;
    const longest = steps > 0 ? blockLength(chain, dt_s) : 1;
    for (let done = 0; done < steps; done += longest) {
      const count = Math.min(longest, steps - done);
      const field_T = Float64Array.from({ length: count + 1 }, (_, k) => run.field_T(now_s + (done + k) * dt_s));
      requireFineStep(chain, dt_s, field_T);
      advance(chain, { ...placed, spins: chain.spins, chains, steps: count, field_T }, { dt_s, random, noise, kernel });
      yield (i + (done + count) / steps) / run.times_s.length;
    }
    now_s = run.times_s[i];
    addSample(sums, placed, i);
  }
  for (let k = 0; k < chains; k++) sums.timeMeans[k] /= run.times_s.length;
  return sums;
}

/** Steps between two turns of the axes. */
function blockLength({ easyAxes, temperature_K }: MacrospinChain, dt_s: number): number {
  if (easyAxes.kind === "none" || easyAxes.brownTime_s === undefined) return stepsPerBlock;
  const torque = (2 * easyAxes.barrier_J) / (boltzmannConstant_J_per_K * temperature_K);
  const longest_s = (axisTurnPerBlock * 2 * easyAxes.brownTime_s) / Math.max(1, torque);
  if (longest_s >= dt_s) return Math.min(stepsPerBlock, Math.floor(longest_s / dt_s));
  throw new FerruleError("InvalidValue", {
    path: "easyAxes.brownTime_s",
    found: `${easyAxes.brownTime_s} s with steps of ${dt_s} s`,
    accepted: `a Brown time of at least ${((easyAxes.brownTime_s * dt_s) / longest_s).toPrecision(3)} s, or shorter steps`,
  });
}

/** One kernel call with its noise, then the axes. */
function advance(
  chain: MacrospinChain,
  block: Omit<MacrospinBlock, "noise" | "thermalField_T" | "precession_per_T" | "damping">,
  { dt_s, random, noise, kernel }: { dt_s: number; random: RandomStream; noise: Float64Array; kernel: MacrospinKernel },
): void {
  const { easyAxes, temperature_K, damping } = chain;
  const drawn = temperature_K > 0 ? random.fillNormal(noise.subarray(0, block.steps * block.state.length)) : noise;
  kernel({ ...block, ...stepOf(chain, dt_s), damping, noise: drawn });
  if (easyAxes.kind === "none" || easyAxes.brownTime_s === undefined) return;
  turnAxes(block.state, block.easyAxis, {
    mobility: (block.steps * dt_s) / (2 * easyAxes.brownTime_s),
    torque: (2 * easyAxes.barrier_J) / (boltzmannConstant_J_per_K * temperature_K),
    noise: random.fillNormal(new Float64Array(block.state.length)),
  });
}

function requireChunk(run: MacrospinRun, chunk: number): void {
  if (Number.isInteger(chunk) && chunk >= 0 && chunk < macrospinChunks(run)) return;
  throw new FerruleError("InvalidValue", {
    path: "chunk",
    found: String(chunk),
    accepted: `a whole number from 0 to ${macrospinChunks(run) - 1}, for ${run.chains} chains`,
  });
}

/** Refuses steps in which a moment may turn by more than 1 rad: the result would look sound and mean nothing. */
function requireFineStep(chain: MacrospinChain, dt_s: number, field_T: Float64Array): void {
  const largestField_T = field_T.reduce((largest, field) => Math.max(largest, Math.abs(field)), 0);
  const longest_s = suggestedStep_s(chain, { largestField_T, turn: 1 });
  if (dt_s <= longest_s) return;
  throw new FerruleError("InvalidValue", {
    path: "step_s",
    found: `${dt_s.toPrecision(3)} s at fields up to ${largestField_T.toPrecision(3)} T`,
    accepted: `steps below ${longest_s.toPrecision(3)} s, better ${suggestedStep_s(chain, { largestField_T }).toPrecision(3)} s`,
  });
}

function emptySums(spins: number, chains: number, times: number): MacrospinSums {
  return {
    chains,
    perSpin: new Float64Array(times * spins),
    squares: new Float64Array(times),
    timeMeans: new Float64Array(chains),
  };
}

function addSample(sums: MacrospinSums, { state, fieldDirection }: PlacedChains, time: number): void {
  const { chains } = sums;
  const spins = state.length / (3 * chains);
  const plane = spins * chains;
  for (let k = 0; k < chains; k++) {
    let mean = 0;
    for (let i = 0; i < spins; i++) {
      const at = i * chains + k;
      const along =
        state[at] * fieldDirection[k] +
        state[plane + at] * fieldDirection[chains + k] +
        state[2 * plane + at] * fieldDirection[2 * chains + k];
      sums.perSpin[time * spins + i] += along;
      mean += along / spins;
    }
    sums.squares[time] += mean * mean;
    sums.timeMeans[k] += mean;
  }
}
