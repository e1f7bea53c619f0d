import { partOf, type Steps } from "../../numerics/index.js";
import type { MacrospinChain } from "./macrospin-chain.js";
import { type MacrospinSums, macrospinChunk } from "./macrospin-chunk.js";
import { type MacrospinRun, macrospinChunks, requireRun } from "./macrospin-run.js";
import { type MacrospinKernel, macrospinSteps } from "./macrospin-steps.js";

/** Moment along the field, in units of saturation, at the requested times. */
export interface MacrospinCurve {
  /** Mean over chains and spins, shape [n]. */
  readonly moment: Float64Array;
  /** Its standard error from the spread between chains, shape [n]; NaN for one chain. */
  readonly standardError: Float64Array;
  /** Mean over chains of every spin, shape [n, spins]. */
  readonly perSpin: Float64Array;
  /** Mean over chains, spins and times, with the standard error from the spread between the chains' own time means. */
  readonly overall: { readonly moment: number; readonly standardError: number };
}

/**
 * Mean moment of many independent chains of macrospins driven by a field, chunk after chunk.
 * `runtime` may spread the chunks over workers: `combineMacrospins` of the same chunks in index order gives the same bits.
 *
 * @param chain  one chain: cores, spacing, easy axes, damping, temperature
 * @param run  field, times, step, how many chains, seed
 * @param options.kernel  the stepper, or a twin of it
 * @returns a generator of progress whose result is the curve
 *
 * Valid for   point dipoles, straight chains, no exchange; steps as in `suggestedStep_s`
 * Source      stochastic Landau-Lifshitz-Gilbert equation, see `macrospinSteps`
 * Checked by  checks/chains
 */
export function* macrospinLoop(
  chain: MacrospinChain,
  run: MacrospinRun,
  { kernel = macrospinSteps }: { kernel?: MacrospinKernel } = {},
): Steps<MacrospinCurve> {
  requireRun(run);
  const count = macrospinChunks(run);
  const parts: MacrospinSums[] = [];
  for (let chunk = 0; chunk < count; chunk++)
    parts.push(yield* partOf(macrospinChunk(chain, run, { chunk, kernel }), chunk / count, (chunk + 1) / count));
  return combineMacrospins(parts, chain);
}

/** Adds the chunks' sums in the order given and turns them into means. */
export function combineMacrospins(
  parts: readonly MacrospinSums[],
  { spins }: { readonly spins: number },
): MacrospinCurve {
  const chains = parts.reduce((sum, part) => sum + part.chains, 0);
  const perSpin = addUp(parts.map((part) => part.perSpin)).map((value) => value / chains);
  const squares = addUp(parts.map((part) => part.squares)).map((value) => value / chains);
  const moment = squares.map((_, i) => meanOf(perSpin.subarray(i * spins, (i + 1) * spins)));
  const standardError = squares.map((square, i) => Math.sqrt(Math.max(0, square - moment[i] ** 2) / (chains - 1)));
  const timeMeans = Float64Array.from(parts.flatMap((part) => [...part.timeMeans]));
  const overall = meanOf(timeMeans);
  const spread = meanOf(timeMeans.map((value) => (value - overall) ** 2));
  return {
    moment,
    standardError,
    perSpin,
    overall: { moment: overall, standardError: Math.sqrt(spread / (chains - 1)) },
  };
}

function addUp(rows: readonly Float64Array[]): Float64Array {
  const sum = new Float64Array(rows[0].length);
  for (const row of rows) for (let i = 0; i < sum.length; i++) sum[i] += row[i];
  return sum;
}

function meanOf(values: Float64Array): number {
  let sum = 0;
  for (const value of values) sum += value;
  return sum / values.length;
}
