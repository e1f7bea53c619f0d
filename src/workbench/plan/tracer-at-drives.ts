import type { DriveAxisModel, TracerModel } from "../../documents/index.js";
import { debyeFactor, responseSpectrum } from "../../physics/index.js";
import { type Drive, periodicField } from "../../runtime/index.js";
import { lazyPool, type RunOptions, solveResponse } from "../predict/solve-response.js";

/** Harmonics of M/Ms at one drive, order n at index n; beyond `mostHarmonics` nothing is counted. */
export type HarmonicsAt = (amplitude_T: number, frequency_Hz: number, edgeShare?: number) => Float64Array;

export const mostHarmonics = 40;

/** Edges of pulses as a part of the period; 0 or absent: a sine. */
type Pair = readonly [amplitude_T: number, frequency_Hz: number, edgeShare?: number];

/** What of its period a drive spends on each edge, when it makes pulses or trapezoids; it keeps that at other frequencies. */
export function edgeShareOf({ waveform, frequency_Hz }: DriveAxisModel): number {
  return waveform.kind === "sine" ? 0 : waveform.edge_s * frequency_Hz;
}

/**
 * Harmonics of a tracer at every drive of a sweep, each solved once. Without relaxation they depend on the amplitude
 * alone; a Debye time filters them, harmonic by harmonic; other models are solved for each pair, costly ones on the pool.
 */
export async function harmonicsAtDrives(
  tracer: TracerModel,
  pairs: readonly Pair[],
  { signal, onProgress }: RunOptions = {},
): Promise<HarmonicsAt> {
  const { relaxation, coupling = 0 } = tracer;
  const isFiltered = coupling === 0 && (relaxation.kind === "none" || relaxation.kind === "debye");
  const still: TracerModel = isFiltered ? { ...tracer, relaxation: { kind: "none" } } : tracer;
  // A response without time of its own is solved at 1 Hz: to the bit the same whatever else is swept.
  const solvedAt = ([amplitude, frequency, edge = 0]: Pair): Pair => [amplitude, isFiltered ? 1 : frequency, edge];
  const keyOf = (pair: Pair) => solvedAt(pair).join(" ");
  const unique = new Map(pairs.map((pair) => [keyOf(pair), solvedAt(pair)]));
  const solved = new Map<string, Float64Array>();
  const pool = lazyPool();
  try {
    for (const [key, pair] of unique) {
      const done = solved.size;
      const within = (part: number) => onProgress?.((done + part) / unique.size);
      solved.set(key, await spectrumOf(still, pair, { pool, signal, onProgress: within }));
      onProgress?.(solved.size / unique.size);
    }
  } finally {
    await pool.close();
  }
  return (amplitude_T, frequency_Hz, edgeShare = 0) => {
    const amplitude = solved.get(keyOf([amplitude_T, frequency_Hz, edgeShare]));
    if (amplitude === undefined) throw new RangeError(`no drive of ${amplitude_T} T at ${frequency_Hz} Hz was solved`);
    if (relaxation.kind !== "debye" || !isFiltered) return amplitude;
    const omega = 2 * Math.PI * frequency_Hz * relaxation.time_s;
    return amplitude.map((value, n) => value * debyeFactor(n * omega).amplitude);
  };
}

async function spectrumOf(
  tracer: TracerModel,
  [amplitude_T, frequency_Hz, edgeShare = 0]: Pair,
  options: RunOptions & { readonly pool: ReturnType<typeof lazyPool> },
): Promise<Float64Array> {
  const data: Drive =
    edgeShare === 0
      ? { kind: "cosine", amplitude_T, frequency_Hz }
      : { kind: "pulsed", amplitude_T, frequency_Hz, riseTime_s: edgeShare / frequency_Hz };
  const { magnetisation } = await solveResponse(tracer, { data, field: periodicField(data) }, options);
  return responseSpectrum(magnetisation, mostHarmonics).amplitude;
}
