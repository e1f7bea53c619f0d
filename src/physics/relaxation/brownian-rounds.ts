import { type Steps, solveSquare } from "../../numerics/index.js";
import type { BrownianKernel } from "./legendre-steps.js";
import { largestDifference, nextStart, type Round } from "./periodic-closure.js";

export interface Chunk {
  readonly xiPerTesla: Float64Array;
  readonly brownTime_s: Float64Array;
}

export interface ChunkOptions {
  readonly samples: number;
  readonly tolerance: number;
  readonly kernel: BrownianKernel;
}

/** A mesh, as the kernel takes it, and the moments kept on it. */
export interface Grid {
  readonly stageField_T: Float64Array;
  readonly step_s: Float64Array;
  readonly sampleStep: Int32Array;
  readonly moments: number;
}

/** States at the start of the period, one per particle, and samples of M/Ms, [particles, samples]. */
export interface Closed {
  readonly starts: readonly Float64Array[];
  readonly magnetisation: Float64Array;
  readonly periods: number;
  readonly tail: number;
  /** Every particle ended where it started, to the mismatch allowed. */
  readonly isClosed: boolean;
  /** What the mismatches of the last rounds may leave of error in a sample. */
  readonly closureError: number;
}

/** What rounding leaves of a mismatch over a period: a closer one cannot be asked for. */
const roundingMismatch = 1e-13;
/** Rounds before the matrix of the period is worth its cost. */
const mixedRounds = 16;
const mostPeriods = 24;

/**
 * Rounds of one period until every particle ends where it started; particles that do so drop out of the rounds. Starts are
 * proposed by `nextStart`; where that has not closed a period after some rounds (many moments, all slow), by the matrix of
 * the period itself.
 */
export function* closeOn(
  grid: Grid,
  { xiPerTesla, brownTime_s }: Chunk,
  { samples, tolerance, kernel, starts = [] }: ChunkOptions & { readonly starts?: readonly Float64Array[] },
): Steps<Closed> {
  const period_s = grid.step_s.reduce((sum, step) => sum + step, 0);
  const histories: Round[][] = Array.from(xiPerTesla, () => []);
  const matrices: (Float64Array | undefined)[] = Array.from(xiPerTesla, () => undefined);
  const current = Array.from(xiPerTesla, (_, p) => resized(starts[p], grid.moments));
  const magnetisation = new Float64Array(xiPerTesla.length * samples);
  let open = Array.from(xiPerTesla, (_, p) => p);
  let periods = 0;
  let tail = 0;
  const closureErrors = new Float64Array(xiPerTesla.length);
  while (open.length > 0 && periods < mostPeriods) {
    const round = onePeriod(grid, kernel, {
      xiPerTesla: Float64Array.from(open, (p) => xiPerTesla[p]),
      brownTime_s: Float64Array.from(open, (p) => brownTime_s[p]),
      starts: open.map((p) => current[p]),
    });
    periods++;
    open = open.filter((p, i) => {
      const { start, end, trace, lastMoment } = round[i];
      for (let k = 0; k < samples; k++) magnetisation[p * samples + k] = trace[grid.sampleStep[k]];
      // A mismatch r leaves an error of at most about r / (1 - e^(-period/tau)).
      const slowness = -Math.expm1(-period_s / brownTime_s[p]);
      const mismatch = largestDifference(start, end);
      const isClosed = mismatch <= Math.max(roundingMismatch, 0.01 * tolerance * slowness);
      closureErrors[p] = mismatch / slowness;
      histories[p].push({ start, end });
      if (isClosed) {
        tail = Math.max(tail, lastMoment);
        current[p] = start;
      } else if (periods < mixedRounds) current[p] = nextStart(histories[p]);
      else {
        matrices[p] ??= periodMatrix(grid, kernel, { xiPerTesla: xiPerTesla[p], brownTime_s: brownTime_s[p] });
        current[p] = directStart({ start, end }, matrices[p]);
      }
      return !isClosed;
    });
    yield 1 - open.length / xiPerTesla.length;
  }
  return {
    starts: current,
    magnetisation,
    periods,
    tail,
    isClosed: open.length === 0,
    closureError: closureErrors.reduce((most, value) => Math.max(most, value), 0),
  };
}

interface ParticleRound extends Round {
  readonly trace: Float64Array;
  readonly lastMoment: number;
}

/** Packs the states, runs the kernel over one period, unpacks. */
function onePeriod(
  { stageField_T, step_s, moments }: Grid,
  kernel: BrownianKernel,
  { xiPerTesla, brownTime_s, starts }: Chunk & { readonly starts: readonly Float64Array[] },
): ParticleRound[] {
  const count = starts.length;
  const state = new Float64Array(moments * count);
  for (let p = 0; p < count; p++) for (let n = 0; n < moments; n++) state[n * count + p] = starts[p][n];
  const trace = new Float64Array(step_s.length * count);
  const tail = new Float64Array(count);
  kernel({ stageField_T, step_s, xiPerTesla, brownTime_s, moments, state, trace, tail });
  return starts.map((start, p) => ({
    start,
    end: Float64Array.from({ length: moments }, (_, n) => state[n * count + p]),
    trace: Float64Array.from({ length: step_s.length }, (_, s) => trace[s * count + p]),
    lastMoment: tail[p],
  }));
}

/** 1 - Phi of a period c -> Phi c + g, from one round of unit states beside the zero state, row-major [N, N]. */
function periodMatrix(
  grid: Grid,
  kernel: BrownianKernel,
  { xiPerTesla, brownTime_s }: { xiPerTesla: number; brownTime_s: number },
): Float64Array {
  const n = grid.moments;
  const unit = (j: number) => Float64Array.from({ length: n }, (_, i) => (i === j ? 1 : 0));
  const rounds = onePeriod(grid, kernel, {
    xiPerTesla: new Float64Array(n + 1).fill(xiPerTesla),
    brownTime_s: new Float64Array(n + 1).fill(brownTime_s),
    starts: Array.from({ length: n + 1 }, (_, j) => unit(j)),
  });
  const still = rounds[n].end;
  return Float64Array.from({ length: n * n }, (_, k) => {
    const [i, j] = [Math.floor(k / n), k % n];
    return (i === j ? 1 : 0) - (rounds[j].end[i] - still[i]);
  });
}

/** x + (1 - Phi)^-1 (F(x) - x); the end of the round where the matrix is singular to working precision. */
function directStart({ start, end }: Round, matrix: Float64Array): Float64Array {
  const step = solveSquare(
    matrix,
    end.map((value, i) => value - start[i]),
  );
  return step === undefined ? end : start.map((value, i) => value + step[i]);
}

/** A state with more moments, the new ones zero; without a state: random orientation. */
function resized(state: Float64Array | undefined, moments: number): Float64Array {
  const out = new Float64Array(moments);
  if (state !== undefined) out.set(state.subarray(0, moments));
  return out;
}
