/**
 * Values of a smooth odd curve at many fields from its values on a few.
 *
 * A measured curve of 1e5 rows asks for the same average over sizes at 1e5 fields that crowd within a few decades. The
 * average is smooth in t = ln|B|: a Langevin function has its nearest pole pi/2 off the real t axis, whatever the core.
 * So it is computed on an even grid in t and interpolated by the polynomial through the eight nearest nodes:
 *   relative error <= 1.2 h^8 (8 nodes, strip of half width pi/2), 8e-12 for h = 0.04
 * Weights depend on the fields only, which a fit keeps: they are computed once.
 *
 * Source      Lagrange's remainder with Cauchy's bound on the derivative; derived
 * Checked by  field-grid.test.ts (the direct average, worst relative error over diameters and log-sds)
 */
export interface FieldGrid {
  /** Fields to evaluate the curve at, T, ascending. */
  readonly nodes_T: Float64Array;
  /** Values at the measured fields from values at the nodes. */
  readonly interpolate: (nodeValues: Float64Array, out: Float64Array) => Float64Array;
}

const step = 0.04;
const width = 8;

/**
 * A grid for these fields, or `undefined` where computing them one by one costs less.
 *
 * @param options.fieldsPerNode  how many fields a node has to save; less where one field costs much (several populations)
 */
export function fieldGrid(
  field_T: Float64Array,
  { fieldsPerNode = 4 }: { fieldsPerNode?: number } = {},
): FieldGrid | undefined {
  const logs = field_T.map((field) => Math.log(Math.abs(field)));
  const [low, high] = finiteEnds(logs);
  if (!(low <= high)) return undefined; // nothing but zeros
  const cells = Math.max(1, Math.ceil((high - low) / step));
  // Half a stencil hangs over at each end, so that every point lies in the middle of its own.
  const count = cells + width;
  if (!(field_T.length >= fieldsPerNode * count)) return undefined;
  const first = low - (width / 2 - 1) * step;
  const nodes_T = Float64Array.from({ length: count }, (_, j) => Math.exp(first + j * step));
  const start = new Int32Array(field_T.length);
  const weights = new Float64Array(width * field_T.length);
  for (const [i, log] of logs.entries()) {
    if (field_T[i] === 0) continue; // odd: all weights 0
    const position = (log - first) / step;
    start[i] = Math.min(count - width, Math.max(0, Math.floor(position) - (width / 2 - 1)));
    lagrangeWeights(position - start[i], Math.sign(field_T[i]), weights.subarray(i * width, (i + 1) * width));
  }
  return { nodes_T, interpolate: (values, out) => apply(values, { start, weights, out }) };
}

function finiteEnds(logs: Float64Array): [number, number] {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const log of logs) {
    if (log === Number.NEGATIVE_INFINITY) continue;
    low = Math.min(low, log);
    high = Math.max(high, log);
  }
  return [low, high];
}

/** Products of (x - k)/(j - k) over the nodes k = 0..7 but j, times a sign. */
function lagrangeWeights(x: number, sign: number, out: Float64Array): void {
  for (let j = 0; j < width; j++) {
    let product = sign;
    for (let k = 0; k < width; k++) if (k !== j) product *= (x - k) / (j - k);
    out[j] = product;
  }
}

function apply(
  values: Float64Array,
  { start, weights, out }: { start: Int32Array; weights: Float64Array; out: Float64Array },
): Float64Array {
  for (let i = 0; i < out.length; i++) {
    let sum = 0;
    for (let j = 0; j < width; j++) sum += weights[i * width + j] * values[start[i] + j];
    out[i] = sum;
  }
  return out;
}
