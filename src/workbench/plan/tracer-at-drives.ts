import type { TracerModel } from "../../documents/index.js";
import { debyeFactor, responseSpectrum } from "../../physics/index.js";
import { type Drive, periodicField } from "../../runtime/index.js";
import { lazyPool, type RunOptions, solveResponse } from "../predict/solve-response.js";

/** Harmonics of M/Ms at one drive, order n at index n; beyond `mostHarmonics` nothing is counted. */
export type HarmonicsAt = (amplitude_T: number, frequency_Hz: number) => Float64Array;

export const mostHarmonics = 40;

type Pair = readonly [amplitude_T: number, frequency_Hz: number];

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
  const keyOf = ([amplitude, frequency]: Pair) => (isFiltered ? String(amplitude) : `${amplitude} ${frequency}`);
  const unique = new Map(pairs.map((pair) => [keyOf(pair), pair]));
  const solved = new Map<string, Float64Array>();
  const pool = lazyPool();
  try {
    for (const [key, pair] of unique) {
      solved.set(key, await spectrumOf(still, pair, { pool, signal }));
      onProgress?.(solved.size / unique.size);
    }
  } finally {
    await pool.close();
  }
  return (amplitude_T, frequency_Hz) => {
    const amplitude = solved.get(keyOf([amplitude_T, frequency_Hz])) ?? new Float64Array(1);
    if (relaxation.kind !== "debye" || !isFiltered) return amplitude;
    const omega = 2 * Math.PI * frequency_Hz * relaxation.time_s;
    return amplitude.map((value, n) => value * debyeFactor(n * omega).amplitude);
  };
}

async function spectrumOf(
  tracer: TracerModel,
  [amplitude_T, frequency_Hz]: Pair,
  { pool, signal }: { readonly pool: ReturnType<typeof lazyPool>; readonly signal?: AbortSignal | undefined },
): Promise<Float64Array> {
  const data: Drive = { kind: "cosine", amplitude_T, frequency_Hz };
  const { magnetisation } = await solveResponse(tracer, { data, field: periodicField(data) }, { pool, signal });
  return responseSpectrum(magnetisation, mostHarmonics).amplitude;
}
