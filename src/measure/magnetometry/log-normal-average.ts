import { langevin, sizeNodes, xiPerTesla } from "../../physics/index.js";
import type { FieldGrid } from "./field-grid.js";
import type { CoreConditions } from "./log-normal-model.js";

/** A log-normal population of cores; the median is that of particle numbers. */
export interface LogNormalPopulation {
  readonly medianDiameter_m: number;
  readonly logSd: number;
}

/** M/Ms of a population and its derivatives, shape [n] each. */
export interface PopulationCurve {
  readonly value: Float64Array;
  /** d(M/Ms) / d ln(median). */
  readonly perLogMedian: Float64Array;
  /** d(M/Ms) / d(log-sd). */
  readonly perLogSd: Float64Array;
}

/**
 * Relative magnetisation of log-normal cores with its derivatives: what a fit needs in one pass.
 *   M/Ms = sum_j w_j L(k_j B),  k_j = k(d_j),  ln d_j = ln d0 + 3 s^2 + s z_j  (the d^3-weighted distribution)
 *   d/d ln d0 = 3 sum_j w_j xi_j L'(xi_j),  d/ds = 3 sum_j w_j (z_j + 6 s) xi_j L'(xi_j)
 *
 * @param field_T  mu0H, T, shape [n]
 * @param population  number-weighted median and log-sd
 * @param options.grid  of these fields: computed on its nodes and interpolated (relative error 1e-11)
 *
 * Valid for   as `relativeMagnetisation`; log-sd above 0
 * Source      the weights w_j belong to fixed z_j, so that only d_j moves with the parameters; derived
 * Checked by  log-normal-average.test.ts (`relativeMagnetisation`, differences), checks/tracer-fit
 */
export function logNormalAverage(
  field_T: Float64Array,
  { medianDiameter_m, logSd }: LogNormalPopulation,
  { coreSaturation_A_per_m, temperature_K, grid }: CoreConditions & { readonly grid?: FieldGrid },
): PopulationCurve {
  const { diameter_m, weight } = sizeNodes(
    { kind: "lognormal", weighting: "number", medianDiameter_m, logSd },
    { order: 3 },
  );
  const k = diameter_m.map((d) => xiPerTesla(d, coreSaturation_A_per_m, temperature_K));
  // z + 6 s, where z is the node's distance from the volume-weighted median in log-sds
  const lever = diameter_m.map((d) => Math.log(d / medianDiameter_m) / logSd + 3 * logSd);
  const at_T = grid?.nodes_T ?? field_T;
  const sums = emptyCurve(at_T.length);
  for (let i = 0; i < at_T.length; i++) {
    let [value, slope, levered] = [0, 0, 0];
    for (let j = 0; j < weight.length; j++) {
      const xi = k[j] * at_T[i];
      const aligned = langevin(xi);
      // xi L' = xi (1 - L^2) - 2 L, absolute error of some 1e-16 xi: all that a derivative needs. Above 20 it is 1/xi.
      const rise = weight[j] * (xi < 20 && xi > -20 ? xi * (1 - aligned * aligned) - 2 * aligned : 1 / xi);
      value += weight[j] * aligned;
      slope += rise;
      levered += lever[j] * rise;
    }
    sums.value[i] = value;
    sums.perLogMedian[i] = 3 * slope;
    sums.perLogSd[i] = 3 * levered;
  }
  if (grid === undefined) return sums;
  const spread = (values: Float64Array) => grid.interpolate(values, new Float64Array(field_T.length));
  return {
    value: spread(sums.value),
    perLogMedian: spread(sums.perLogMedian),
    perLogSd: spread(sums.perLogSd),
  };
}

function emptyCurve(n: number): PopulationCurve {
  return { value: new Float64Array(n), perLogMedian: new Float64Array(n), perLogSd: new Float64Array(n) };
}
