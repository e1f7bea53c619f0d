import { requireBetween, requirePositive } from "./ranges.js";

/** Every core has the same magnetic diameter. */
export interface SingleSize {
  readonly kind: "single";
  readonly diameter_m: number;
}

/**
 * Log-normal magnetic core diameters. `weighting` says which distribution the median belongs to: of particle *numbers*
 * (our convention) or of magnetic *volume* (what light scattering and many magnetometry papers print).
 * `logSd` is the standard deviation of ln d, the same number under both weightings.
 */
export interface LogNormalSizes {
  readonly kind: "lognormal";
  readonly weighting: "number" | "volume";
  readonly medianDiameter_m: number;
  readonly logSd: number;
}

export type CoreSizes = SingleSize | LogNormalSizes;

/** Diameters with weights that sum to 1. */
export interface SizeNodes {
  readonly diameter_m: Float64Array;
  readonly weight: Float64Array;
}

/**
 * The same particles described by the number-weighted log-normal.
 *   median_number = median_volume exp(-3 s^2)
 *
 * Valid for   every log-normal; s unchanged.
 * Source      d^3 times a log-normal density is a log-normal with its median moved by exp(3 s^2); derived.
 * Checked by  checks/size-distribution
 */
export function numberWeighted({ weighting, medianDiameter_m, logSd }: LogNormalSizes): LogNormalSizes {
  const shift = weighting === "number" ? 1 : Math.exp(-3 * logSd * logSd);
  return { kind: "lognormal", weighting: "number", medianDiameter_m: medianDiameter_m * shift, logSd };
}

/** The same particles described by the volume-weighted log-normal: median_volume = median_number exp(3 s^2). */
export function volumeWeighted({ weighting, medianDiameter_m, logSd }: LogNormalSizes): LogNormalSizes {
  const shift = weighting === "volume" ? 1 : Math.exp(3 * logSd * logSd);
  return { kind: "lognormal", weighting: "volume", medianDiameter_m: medianDiameter_m * shift, logSd };
}

/**
 * Raw moment of the number-weighted diameter distribution, m^order.
 *   <d^n> = d0^n exp(n^2 s^2 / 2)
 *
 * Valid for   any real order.
 * Source      log-normal statistics; derived.
 * Checked by  checks/size-distribution
 */
export function diameterMoment(sizes: CoreSizes, order: number): number {
  const { median_m, logSd } = logNormalParameters(sizes);
  return median_m ** order * Math.exp((order * order * logSd * logSd) / 2);
}

/**
 * Quadrature nodes of the distribution weighted by d^order: sum_j w_j f(d_j) = <d^order f(d)> / <d^order>.
 * The d^n-weighted log-normal is again log-normal with its median at d0 exp(n s^2), so the weight costs no accuracy.
 *
 * Trapezoid rule in z = ln(d / median) / s, which converges geometrically for functions analytic about the real axis.
 * Langevin curves have their nearest pole where xi = i pi; xi grows as exp(3 s z), so it lies pi/(6 s) off the axis and
 * the error falls as exp(-pi^2 / (3 s h)): the step shrinks as 1/s. The ends reach where the density, moved by up to
 * six more powers of d down and three up (strong-field slope, weak-field magnetisation), is below 1e-12.
 *
 * @param options.order  0: plain numbers; 3: what magnetisation sees; 6: what its slope at zero field sees
 * Valid for   Langevin curves; worst error 1.5e-13 of the value itself at any field, measured for s from 0.02 to 0.8
 *             (a step of 0.14/s would give 6e-8, 0.11/s 2e-10, at three quarters of the nodes)
 * Source      Trefethen & Weideman, SIAM Review 56:385 (2014), for the rule; from memory. Step and range measured.
 * Checked by  checks/size-distribution (adaptive quadrature with 30 digits)
 */
export function sizeNodes(sizes: CoreSizes, { order = 0 }: { order?: number } = {}): SizeNodes {
  const { median_m, logSd } = logNormalParameters(sizes);
  if (logSd === 0) return { diameter_m: Float64Array.of(median_m), weight: Float64Array.of(1) };
  const step = Math.min(0.7, 0.09 / logSd);
  const below = Math.ceil((7 + 6 * logSd) / step);
  const above = Math.ceil((7 + 3 * logSd) / step);
  const centre_m = median_m * Math.exp(order * logSd * logSd);
  const diameter_m = new Float64Array(below + above + 1);
  const weight = new Float64Array(below + above + 1);
  let total = 0;
  for (let j = 0; j < weight.length; j++) {
    const z = (j - below) * step;
    diameter_m[j] = centre_m * Math.exp(logSd * z);
    weight[j] = Math.exp((-z * z) / 2);
    total += weight[j];
  }
  for (let j = 0; j < weight.length; j++) weight[j] /= total;
  return { diameter_m, weight };
}

/** Beyond this a number-weighted description is meaningless: the volume median would lie e^12 above the number median. */
const widestLogSd = 2;

/** Number-weighted median and log-sd of either kind of description; refuses values that describe no particles. */
function logNormalParameters(sizes: CoreSizes): { median_m: number; logSd: number } {
  if (sizes.kind === "single") {
    return { median_m: requirePositive(sizes.diameter_m, "sizes.diameter_m", "25e-9 (25 nm)"), logSd: 0 };
  }
  requirePositive(sizes.medianDiameter_m, "sizes.medianDiameter_m", "25e-9 (25 nm)");
  requireBetween(sizes.logSd, [0, widestLogSd], { path: "sizes.logSd", example: "0.1" });
  const { medianDiameter_m, logSd } = numberWeighted(sizes);
  return { median_m: medianDiameter_m, logSd };
}
