import { FerruleError } from "../../errors.js";
import { findRoot } from "../../numerics/index.js";
import { type CoreSizesInChain, coresFromNodes, emptyResponse, equalCores, respond } from "./core-response.js";
import { appliedXi, requireCoupling } from "./local-field.js";

/**
 * Full width at half maximum of the chain's static point spread function dM/dxi, in xi.
 *   half of the peak 1/(3 - kappa) is where L'(u) = 1/(6 - kappa); width = 2 (u - kappa L(u)) there
 *
 * @param kappa  coupling, 0 <= kappa < 3
 * @param options.cores  sizes that share the local field (default: all equal); xi is that of the mean moment
 * @returns width in xi; 4.161048 at kappa = 0
 *
 * Valid for   the reversible branch; beyond 3 the curve jumps and has no width. Static: relaxation widens it.
 * Source      M = L(xi + kappa M) differentiated; derived (facts C6, C7)
 * Checked by  checks/chains (30-digit roots, kappa 0 to 3 - 1e-6): relative error below 1e-13
 */
export function meanFieldWidth(kappa: number, { cores = equalCores }: { cores?: CoreSizesInChain } = {}): number {
  requireCoupling(kappa);
  if (kappa >= 3)
    throw new FerruleError("InvalidValue", {
      path: "coupling",
      found: String(kappa),
      accepted: "a coupling from 0 and below 3, e.g. 2 (from 3 on the curve jumps: it has a coercive field, no width)",
    });
  const response = emptyResponse();
  // 1/3 - F'(x) = (3 - kappa) / (3 (6 - kappa)): the form that keeps its digits when the width goes to 0.
  const half = (3 - kappa) / (3 * (6 - kappa));
  const mismatch = (x: number) => respond(x, cores, response).slopeDeficit - half;
  let high = 1;
  while (mismatch(high) < 0) high *= 2;
  const x = findRoot(mismatch, [0, high]).root;
  return 2 * appliedXi(x, kappa, respond(x, cores, response));
}

/** Gain of the peak of dM/dxi over that of the same cores without coupling: 3/(3 - kappa), for 0 <= kappa < 3. */
export function meanFieldPeakGain(kappa: number): number {
  return 3 / (3 - requireCoupling(kappa));
}

/**
 * The same width in field units, T, for a distribution of sizes (nodes weighted by moment, `sizeNodes` of order 3).
 *   equal cores: kB T / m times `meanFieldWidth`
 * Valid for, Source, Checked by   as `meanFieldWidth`; kappa is that of the mean moment, see `chainMagnetisation`
 */
export function chainWidth_T(
  nodes: { readonly xiPerTesla: Float64Array; readonly weight: Float64Array },
  { kappa }: { kappa: number },
): number {
  const { cores, meanXiPerTesla } = coresFromNodes(nodes);
  return meanFieldWidth(kappa, { cores }) / meanXiPerTesla;
}
