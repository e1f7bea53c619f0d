import { FerruleError } from "../../errors.js";
import { curvatureSeries, evaluateSeries, ratioSeries, slopeSeries } from "./langevin-series.js";

/**
 * The Langevin function and its relatives, for one argument or for an array.
 *
 * Two branches: a 20-term series in xi^2 below |xi| = 1, closed forms above. The closed forms lose about log10(3/xi^2)
 * digits where coth xi and 1/xi cancel, so the series has to reach well past 0.1; at 1 nothing is lost on either side.
 * Everything is written with exp(-2|xi|) or expm1, so that no argument overflows.
 */
const seriesLimit = 1;

/** The second derivative cancels twice over: its closed form needs 1.5, and its series has the terms for that. */
const curvatureSeriesLimit = 1.5;

/** Below this the second term of every series is under half a unit in the last place of the first. */
const linearLimit = 1e-8;

/**
 * Equilibrium alignment of a magnetic moment with the field.
 *   L(xi) = coth xi - 1/xi,  xi = m mu0H / (kB T)
 *
 * Valid for   every argument; odd. Subnormal: the correctly rounded xi/3. Above 700 exactly 1 - 1/xi in double precision;
 *             +-Infinity gives +-1, NaN gives NaN.
 * Source      Goodwill et al., IEEE TMI 29:1851 (2010) and any ferrofluid text; from memory. Series derived.
 * Checked by  checks/langevin (60-digit table): worst relative error per range in its SOURCE.md, all below 1e-14
 */
export function langevin(xi: number): number {
  const size = Math.abs(xi);
  if (size < linearLimit) return xi / 3;
  if (size < seriesLimit) return xi * evaluateSeries(ratioSeries, xi * xi);
  // 1 - 1/size is exact to one rounding and comes first: the exponential tail is the small correction.
  const value = 1 - 1 / size + 2 / Math.expm1(2 * size);
  return xi < 0 ? -value : value;
}

/**
 * Slope of the Langevin function: the point spread function of an ideal tracer along the field.
 *   L'(xi) = 1/xi^2 - 1/sinh^2 xi,  L'(0) = 1/3
 *
 * Valid for   every argument; even. Above 700 exactly 1/xi^2; +-Infinity gives 0, NaN gives NaN.
 * Source      calculus; derived.
 * Checked by  checks/langevin (60-digit table): worst relative error per range in its SOURCE.md, all below 1e-14
 */
export function langevinSlope(xi: number): number {
  const size = Math.abs(xi);
  if (size < seriesLimit) return evaluateSeries(slopeSeries, xi * xi);
  const tail = Math.exp(-2 * size); // 1/sinh^2 = 4 q/(1 - q)^2 with q = exp(-2|xi|)
  const gap = -Math.expm1(-2 * size);
  const inverse = 1 / size;
  return inverse * inverse - (4 * tail) / (gap * gap);
}

/**
 * L(xi)/xi: the point spread function of an ideal tracer across the field.
 *
 * Valid for   every argument; even, 1/3 at 0, 0 at +-Infinity, NaN for NaN.
 * Source      Goodwill et al., IEEE TMI 30:1581 (2011); from memory.
 * Checked by  checks/langevin (60-digit table): worst relative error per range in its SOURCE.md, all below 1e-14
 */
export function langevinRatio(xi: number): number {
  const size = Math.abs(xi);
  if (size < seriesLimit) return evaluateSeries(ratioSeries, xi * xi);
  return (1 - 1 / size + 2 / Math.expm1(2 * size)) / size;
}

/**
 * Second derivative of the Langevin function (Jacobians of fits, Newton steps).
 *   L''(xi) = -2/xi^3 + 2 cosh xi / sinh^3 xi
 *
 * Valid for   every argument; odd. Just above |xi| = 1.5 two terms of size 0.6 leave 0.1.
 * Source      calculus; derived.
 * Checked by  checks/langevin (60-digit table): worst relative error per range in its SOURCE.md, all below 1e-14
 */
export function langevinCurvature(xi: number): number {
  const size = Math.abs(xi);
  if (size < curvatureSeriesLimit) return xi * evaluateSeries(curvatureSeries, xi * xi);
  const tail = Math.exp(-2 * size);
  const gap = -Math.expm1(-2 * size);
  const inverse = 1 / size;
  const value = (8 * tail * (1 + tail)) / (gap * gap * gap) - 2 * inverse * inverse * inverse;
  return xi < 0 ? -value : value;
}

/**
 * `langevin` of every element.
 *
 * @param xi   arguments, shape [n]
 * @param out  where to write, shape [n]; may be `xi` itself
 */
export function langevinEach(xi: Float64Array, out: Float64Array = new Float64Array(xi.length)): Float64Array {
  return applyEach(langevin, xi, out);
}

/** `langevinSlope` of every element; `out` may be `xi` itself. */
export function langevinSlopeEach(xi: Float64Array, out: Float64Array = new Float64Array(xi.length)): Float64Array {
  return applyEach(langevinSlope, xi, out);
}

/** `langevinRatio` of every element; `out` may be `xi` itself. */
export function langevinRatioEach(xi: Float64Array, out: Float64Array = new Float64Array(xi.length)): Float64Array {
  return applyEach(langevinRatio, xi, out);
}

function applyEach(kernel: (xi: number) => number, xi: Float64Array, out: Float64Array): Float64Array {
  if (out.length !== xi.length) {
    throw new FerruleError("ShapeMismatch", {
      path: "out",
      found: `length ${out.length}`,
      accepted: `length ${xi.length}, that of xi, e.g. new Float64Array(${xi.length})`,
    });
  }
  for (let i = 0; i < xi.length; i++) out[i] = kernel(xi[i]);
  return out;
}
