import { type CoreSizes, type LogNormalSizes, sizeComponents } from "./core-sizes.js";

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
 *   <d^n> = sum_c p_c d_c^n exp(n^2 s_c^2 / 2)   over log-normal components c of number share p_c
 *
 * Valid for   any real order.
 * Source      log-normal statistics; derived.
 * Checked by  checks/size-distribution
 */
export function diameterMoment(sizes: CoreSizes, order: number): number {
  return sizeComponents(sizes).reduce((sum, component) => sum + component.share * momentOf(component, order), 0);
}

const momentOf = ({ median_m, logSd }: { median_m: number; logSd: number }, order: number): number =>
  median_m ** order * Math.exp((order * order * logSd * logSd) / 2);

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
  const components = sizeComponents(sizes);
  if (components.length === 1) return componentNodes(components[0], order);
  const total = components.reduce((sum, component) => sum + component.share * momentOf(component, order), 0);
  const parts = components.map((component) => {
    const part = (component.share * momentOf(component, order)) / total;
    const { diameter_m, weight } = componentNodes(component, order);
    return { diameter_m, weight: weight.map((w) => w * part) };
  });
  return {
    diameter_m: Float64Array.from(parts.flatMap(({ diameter_m }) => [...diameter_m])),
    weight: Float64Array.from(parts.flatMap(({ weight }) => [...weight])),
  };
}

function componentNodes({ median_m, logSd }: { median_m: number; logSd: number }, order: number): SizeNodes {
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
