import { findRoot } from "../../numerics/index.js";
import { type CoreSizesInChain, emptyResponse, equalCores, respond } from "./core-response.js";
import { appliedXi, requireCoupling, upperBranch } from "./local-field.js";

/** Where the lower branch ends in a rising field, and the jump from there. */
export interface Spinodal {
  /** Size of the local field there, u*; the lower branch stands at -u*. */
  readonly localXi: number;
  /** Applied field there, xi_c. */
  readonly coerciveXi: number;
  /** M/Ms before the jump of a rising field, -F(u*), and after it. */
  readonly before: number;
  readonly after: number;
}

/**
 * Coercive field of the mean-field chain: where its branches end.
 *   L'(u*) = 1/kappa,  xi_c = kappa L(u*) - u*;  towards kappa - 2 sqrt(kappa) for strong coupling
 *
 * @param kappa  coupling, 0 to 1e8
 * @param options.cores  sizes that share the local field (default: all equal); kappa and xi then belong to the mean moment
 * @returns the spinodal, or `undefined` when kappa <= 3: one state for every field
 *
 * Valid for   an endless chain without thermal nucleation. Finite chains turn from their ends at far lower fields, so
 *             that a measured threshold gives an effective kappa, not a geometry.
 * Source      dM/dxi of M = L(xi + kappa M) is infinite there; derived (facts C8, C10, C11)
 * Checked by  checks/chains (30-digit roots)
 */
export function spinodal(
  kappa: number,
  { cores = equalCores }: { cores?: CoreSizesInChain } = {},
): Spinodal | undefined {
  requireCoupling(kappa);
  if (kappa <= 3) return undefined;
  const response = emptyResponse();
  const excess = (kappa - 3) / 3;
  // Two forms of 1/kappa = F'(x): near 3 the distance from 1/3 carries the digits, far above it the slope itself.
  const mismatch = (x: number) => {
    respond(x, cores, response);
    return kappa < 6 ? excess - kappa * response.slopeDeficit : kappa * response.slope - 1;
  };
  // 1/3 - L'(u) <= u^2/15 and L'(u) < 1/u^2 bound the root on either side; a little slack for rounding.
  const low = Math.sqrt((15 * excess) / (kappa * ratioMoment(cores, 3)));
  const high = Math.sqrt(kappa * ratioMoment(cores, -1));
  const localXi = findRoot(mismatch, [0.999 * low, 1.001 * high]).root;
  const coerciveXi = -appliedXi(localXi, kappa, respond(localXi, cores, response));
  const before = -response.value;
  upperBranch(kappa, { cores, least: localXi })(coerciveXi, response);
  return { localXi, coerciveXi, before, after: response.value };
}

/**
 * Remanence of the mean-field chain: what stays on the upper branch at zero field.
 *   M_r = L(kappa M_r)
 *
 * @returns M/Ms, 0 when kappa <= 3
 * Valid for, Source   as `spinodal` (facts C9)
 * Checked by  checks/chains (30-digit roots)
 */
export function remanence(kappa: number, { cores = equalCores }: { cores?: CoreSizesInChain } = {}): number {
  const end = spinodal(kappa, { cores });
  if (end === undefined) return 0;
  const response = emptyResponse();
  upperBranch(kappa, { cores, least: end.localXi })(0, response);
  return response.value;
}

/** sum w r^power. */
function ratioMoment({ ratio, weight }: CoreSizesInChain, power: number): number {
  let sum = 0;
  for (let j = 0; j < weight.length; j++) sum += weight[j] * ratio[j] ** power;
  return sum;
}
