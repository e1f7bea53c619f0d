import { gaussHermite } from "../../numerics/index.js";
import { type CoreSizes, sizeComponents } from "./core-sizes.js";
import type { SizeNodes } from "./size-distribution.js";

/** Shares of moment below this are left out: they move M/Ms by no more. */
const negligibleShare = 1e-7;

/**
 * Few nodes for costly kernels (an equation to solve for each core): the distribution weighted by d^order.
 *   sum_j w_j f(d_j) = <d^order f(d)> / <d^order>
 * Gauss-Hermite in ln d for each log-normal; the diameters themselves for a table.
 *
 * @param options.order  3: what magnetisation sees
 * @param options.count  nodes for each log-normal
 * Valid for   kernels smooth on the scale of the distribution. Largest error of a Langevin curve, in M/Ms, measured:
 *             24 nodes (16 are kept): 2e-8 for log-sd up to 0.2, 3e-7 at 0.3, 5e-5 at 0.5; 12 nodes: 6e-7, 3e-5, 8e-4.
 *             `sizeNodes` keeps 1e-13 with several times the nodes.
 * Source      Gauss-Hermite quadrature; DLMF 3.5(v), from memory
 * Checked by  coarse-nodes.test.ts (against `sizeNodes`)
 */
export function coarseNodes(
  sizes: CoreSizes,
  { order = 3, count = 24 }: { order?: number; count?: number } = {},
): SizeNodes {
  const rule = gaussHermite(count);
  const components = sizeComponents(sizes);
  const moments = components.map(
    ({ share, median_m, logSd }) => share * (median_m * 1e9) ** order * Math.exp((order * order * logSd * logSd) / 2),
  );
  const total = moments.reduce((sum, moment) => sum + moment, 0);
  const diameters: number[] = [];
  const weights: number[] = [];
  for (const [c, { median_m, logSd }] of components.entries()) {
    const part = moments[c] / total;
    const centre_m = median_m * Math.exp(order * logSd * logSd);
    for (let j = 0; j < (logSd === 0 ? 1 : count); j++) {
      const weight = part * (logSd === 0 ? 1 : rule.weights[j]);
      if (weight < negligibleShare) continue;
      diameters.push(logSd === 0 ? median_m : centre_m * Math.exp(logSd * rule.nodes[j]));
      weights.push(weight);
    }
  }
  const kept = weights.reduce((sum, weight) => sum + weight, 0);
  return { diameter_m: Float64Array.from(diameters), weight: Float64Array.from(weights, (weight) => weight / kept) };
}
