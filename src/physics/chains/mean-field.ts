import { FerruleError } from "../../errors.js";
import { findRoot } from "../../numerics/index.js";
import { type CoreResponse, type CoreSizesInChain, emptyResponse, equalCores, respond } from "./core-response.js";
import { appliedSlope, appliedXi, upperBranch } from "./local-field.js";
import { spinodal } from "./spinodal.js";

/** M/Ms of every state at one field. Where there is only one, it is both lower and upper, or whichever still exists. */
export interface StaticStates {
  readonly lower: number | undefined;
  readonly unstable: number | undefined;
  readonly upper: number | undefined;
}

/**
 * Where a history starts: every chain on its lower branch (after a strong negative field), every chain on its upper one, or
 * demagnetised, as many chains up as down.
 */
export type ChainStart = "lower" | "upper" | "demagnetised";

export const chainStarts: readonly ChainStart[] = ["lower", "upper", "demagnetised"];

/** A quasi-static curve of M/Ms and its reversible slope, shape [n] each. */
export interface BranchCurve {
  readonly magnetisation: Float64Array;
  /** dM/dxi along the branch, without the jumps; infinite at a spinodal. */
  readonly slope: Float64Array;
}

/**
 * All states of the mean-field chain at one field.
 *   M = L(xi + kappa M),  kappa = mu0 m H_chain / (kB T) for equal cores in an endless straight chain
 *
 * @param xi  m mu0H / (kB T) of the applied field
 * @param kappa  coupling, 0 to 1e8; one state up to 3, three states within +-xi_c above
 *
 * Valid for   equilibrium within a branch. A fitted kappa is an effective parameter, not a geometry: an endless chain
 *             without nucleation overestimates measured thresholds several times.
 * Source      feedback form from memory; kappa derived (facts C5, C6)
 * Checked by  checks/chains (30-digit roots)
 */
export function meanFieldStates(xi: number, kappa: number): StaticStates {
  requireFinite(xi);
  const end = spinodal(kappa);
  const response = emptyResponse();
  const upperAt = (field: number) => {
    upperBranch(kappa, { cores: equalCores, least: end?.localXi ?? 0 })(field, response);
    return response.value;
  };
  if (end === undefined) {
    const only = Math.sign(xi) * upperAt(Math.abs(xi));
    return { lower: only, unstable: undefined, upper: only };
  }
  return {
    lower: xi <= end.coerciveXi ? -upperAt(-xi) : undefined,
    unstable: Math.abs(xi) < end.coerciveXi ? unstableState(xi, kappa, end.localXi) : undefined,
    upper: xi >= -end.coerciveXi ? upperAt(xi) : undefined,
  };
}

/**
 * Reversible slope dM/dxi at a known local field.
 *   dM/dxi = F'(x) / (1 - kappa F'(x)),  1/(3 - kappa) at xi = 0 for kappa < 3
 * Negative on the unstable branch, infinite at its ends.
 */
export function reversibleSlope(kappa: number, response: CoreResponse): number {
  return response.slope / appliedSlope(kappa, response);
}

/**
 * Quasi-static magnetisation through a sequence of fields: each chain keeps its branch until that ends, then jumps.
 * All chains are equal, so a field beyond +-xi_c turns all of them, and minor loops within +-xi_c are reversible.
 *
 * @param xi  applied field in the order in which it is passed, shape [n]
 * @param options.kappa  coupling, 0 to 1e8
 * @param options.start  branch occupied before the first field
 * @param options.cores  sizes that share the local field (default: all equal)
 *
 * Valid for   as `meanFieldStates`; sweeps slow against the relaxation time, no thermal jumps
 * Source      derived (facts C6, C8, C10)
 * Checked by  checks/chains, mean-field.test.ts
 */
export function followBranch(
  xi: Float64Array,
  {
    kappa,
    start = "demagnetised",
    cores = equalCores,
  }: { kappa: number; start?: ChainStart; cores?: CoreSizesInChain },
): BranchCurve {
  const branches = twoBranches(kappa, cores);
  let shareUp = { lower: 0, upper: 1, demagnetised: 0.5 }[requireStart(start)];
  const magnetisation = new Float64Array(xi.length);
  const slope = new Float64Array(xi.length);
  for (let i = 0; i < xi.length; i++) {
    if (xi[i] > branches.coerciveXi) shareUp = 1;
    else if (xi[i] < -branches.coerciveXi) shareUp = 0;
    const state = branches.at(xi[i], shareUp);
    magnetisation[i] = state.value;
    slope[i] = state.slope;
  }
  return { magnetisation, slope };
}

/** Both branches of a chain; `at` gives M/Ms, dM/dxi and dM/dkappa of a population of which `shareUp` is on the upper one. */
export function twoBranches(kappa: number, cores: CoreSizesInChain) {
  const end = spinodal(kappa, { cores });
  const upper = upperBranch(kappa, { cores, least: end?.localXi ?? 0 });
  const lower = upperBranch(kappa, { cores, least: end?.localXi ?? 0 });
  const response = emptyResponse();
  const state = { value: 0, slope: 0, perCoupling: 0 };
  const add = (share: number, sign: number) => {
    const slope = reversibleSlope(kappa, response);
    state.value += share * sign * response.value;
    state.slope += share * slope;
    state.perCoupling += share * sign * response.value * slope; // M dM/dxi: kappa enters as xi + kappa M
  };
  /** The object returned is overwritten by the next call. */
  const at = (xi: number, shareUp: number) => {
    state.value = 0;
    state.slope = 0;
    state.perCoupling = 0;
    if (Number.isNaN(xi)) return Object.assign(state, { value: xi, slope: xi, perCoupling: xi });
    // With one branch only, its two halves mirror each other.
    const share = end === undefined ? (xi < 0 ? 0 : 1) : shareUp;
    if (share > 0) {
      upper(xi, response);
      add(share, 1);
    }
    if (share < 1) {
      lower(-xi, response);
      add(1 - share, -1);
    }
    return state;
  };
  return { coerciveXi: end?.coerciveXi ?? 0, at };
}

function unstableState(xi: number, kappa: number, localXi: number): number {
  const response = emptyResponse();
  const mismatch = (x: number) => appliedXi(x, kappa, respond(x, equalCores, response)) - xi;
  const x = findRoot(mismatch, [-localXi, localXi], { absolute: Number.MIN_VALUE }).root;
  return respond(x, equalCores, response).value;
}

function requireStart(start: ChainStart): ChainStart {
  if (chainStarts.includes(start)) return start;
  throw new FerruleError("UnknownName", {
    path: "start",
    found: String(start),
    accepted: `one of ${chainStarts.join(", ")}`,
  });
}

function requireFinite(xi: number): void {
  if (Number.isFinite(xi)) return;
  throw new FerruleError("InvalidValue", { path: "xi", found: String(xi), accepted: "a finite number, e.g. 5" });
}
