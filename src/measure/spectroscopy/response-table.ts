import type { HarmonicResponse } from "./harmonic-response.js";

const width = 8;

/**
 * A response by interpolation between nodes that are computed when first asked for: a fit asks for thousands of sizes that
 * crowd within two decades.
 *   polynomial through the 8 nearest nodes of an even grid; relative error about 1.2 h^8, for a strip of half width pi/2
 *   about the real axis (poles of L at xi = i pi, of 1/(1 + i w tau) at w tau = i)
 *
 * @param compute  responses at several nodes, each [2K]
 *
 * Source      as `fieldGrid`
 * Checked by  harmonic-response.test.ts
 */
export function responseAlong(compute: (nodes: readonly number[]) => Float64Array[], step: number) {
  const known = new Map<number, Float64Array>();
  return {
    /** Computes all nodes that this range needs, together. */
    prepare(low: number, high: number): void {
      const missing: number[] = [];
      for (let j = Math.floor(low / step) - width / 2 + 1; j <= Math.floor(high / step) + width / 2; j++)
        if (!known.has(j)) missing.push(j);
      if (missing.length === 0) return;
      const values = compute(missing.map((j) => j * step));
      for (const [k, j] of missing.entries()) known.set(j, values[k]);
    },
    at(x: number, out: Float64Array): Float64Array {
      const position = x / step;
      const first = Math.floor(position) - (width / 2 - 1);
      out.fill(0);
      for (let j = 0; j < width; j++) {
        const values = known.get(first + j);
        if (values === undefined) throw new RangeError(`response at ${x} asked for outside what was prepared`);
        const weight = lagrangeWeight(position - first, j);
        for (let k = 0; k < out.length; k++) out[k] += weight * values[k];
      }
      return out;
    },
  };
}

function lagrangeWeight(x: number, j: number): number {
  let product = 1;
  for (let k = 0; k < width; k++) if (k !== j) product *= (x - k) / (j - k);
  return product;
}

/** What a fit asks for: prepare a range of ln xi at one ln(w tau), then single sizes within it. */
export interface PreparedResponse {
  /** Cores beyond this xi count as if at it: their moment is all but a square wave. */
  readonly largestXi: number;
  readonly prepare: (low: number, high: number, logOmegaTau: number) => void;
  readonly at: HarmonicResponse;
}

/** A response that does not know of relaxation. */
export function tableOfSizes(
  compute: (logXi: number) => Float64Array,
  { step = 0.1, largestXi = 2000 }: { step?: number; largestXi?: number } = {},
): PreparedResponse {
  const along = responseAlong((nodes) => nodes.map(compute), step);
  return { largestXi, prepare: (low, high) => along.prepare(low, high), at: (logXi, _, out) => along.at(logXi, out) };
}

/** Step of ln(w tau) between rows; a coarse search does well to stay on them. */
export const brownianTimeStep = 0.15;

/**
 * A response in both: rows of ln xi at nodes of ln(w tau).
 * Worst absolute error of a harmonic of M/Ms measured against the solver itself: 5e-6 for xi to 40 and w tau 0.01 to 20.
 * The first fit pays for the table (some 3 s), the next ones with the same table take a tenth of a second.
 */
export function tableOfSizesAndTimes(
  compute: (logXi: readonly number[], logOmegaTau: number) => Float64Array[],
  {
    step = 0.15,
    timeStep = brownianTimeStep,
    largestXi = 100,
  }: { step?: number; timeStep?: number; largestXi?: number } = {},
): PreparedResponse {
  const rows = new Map<number, ReturnType<typeof responseAlong>>();
  const rowAt = (j: number) => {
    const row = rows.get(j) ?? responseAlong((nodes) => compute(nodes, j * timeStep), step);
    rows.set(j, row);
    return row;
  };
  let scratch = new Float64Array(0);
  return {
    largestXi,
    prepare(low, high, logOmegaTau) {
      for (const { row } of rowsAround(logOmegaTau / timeStep)) rowAt(row).prepare(low, high);
    },
    at(logXi, logOmegaTau, out) {
      if (scratch.length !== out.length) scratch = new Float64Array(out.length);
      out.fill(0);
      for (const { row, weight } of rowsAround(logOmegaTau / timeStep)) {
        rowAt(row).at(logXi, scratch);
        for (let k = 0; k < out.length; k++) out[k] += weight * scratch[k];
      }
      return out;
    },
  };
}

/** Rows and weights of the polynomial at a position; on a row itself that row alone, which makes a coarse search cheap. */
function rowsAround(position: number): { readonly row: number; readonly weight: number }[] {
  const nearest = Math.round(position);
  if (Math.abs(position - nearest) < 1e-9) return [{ row: nearest, weight: 1 }];
  const first = Math.floor(position) - (width / 2 - 1);
  return Array.from({ length: width }, (_, j) => ({ row: first + j, weight: lagrangeWeight(position - first, j) }));
}
