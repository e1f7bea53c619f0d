import { FerruleError } from "../../errors.js";
import { coresFromNodes } from "./core-response.js";
import { type ChainStart, followBranch, twoBranches } from "./mean-field.js";

/** Which part of a hysteresis curve a measured point belongs to. All the same when kappa <= 3. */
export type ChainBranch = "initial" | "ascending" | "descending";

export const chainBranches: readonly ChainBranch[] = ["initial", "ascending", "descending"];

/** Sizes as their xi per tesla with weights by moment, e.g. from `ensembleNodes(ensemble, 3)`. */
export interface ChainNodes {
  readonly xiPerTesla: Float64Array;
  readonly weight: Float64Array;
}

/** M/Ms with what a fit needs of it, shape [n] each. */
export interface ChainCurve {
  readonly magnetisation: Float64Array;
  /** d(M/Ms)/d(mu0H) along the branch, 1/T. */
  readonly slope_per_T: Float64Array;
  /** d(M/Ms)/dkappa at fixed field and sizes (within a branch; the jump's shift with kappa has no derivative). */
  readonly perCoupling: Float64Array;
}

/**
 * Static magnetisation of chained cores of several sizes on a given branch.
 *   M = sum w_j L(k_j (B + c M)),  c = kappa / sum w_j k_j
 * One mean field B + c M, in tesla, acts on all sizes, each in proportion to its moment. kappa is one effective number for
 * the moment-weighted mean of k = m/(kB T): whatever the distribution, the slope at zero field is mean k / (3 - kappa)
 * and hysteresis begins at kappa = 3.
 * Branches: `descending` starts from positive saturation, `ascending` from negative; `initial` is that of a
 * demagnetised sample, half of whose chains are up and half down until the field exceeds the coercive one.
 *
 * @param field_T  mu0H, T, shape [n], in any order; near-by neighbours make it quick
 * @param nodes  xi per tesla and share of the moment of each size
 * @param options.kappa  coupling, 0 to 1e8
 * @param options.branch  needed as soon as kappa may exceed 3; default "initial"
 *
 * Valid for   as `meanFieldStates`. A fitted kappa is an effective parameter, not a geometry.
 * Source      facts C5, C6 (derived) with a mean field common to all sizes; the weighting by moment is ours
 * Checked by  checks/chains (scipy roots on a log-normal), chain-magnetisation.test.ts
 */
export function chainMagnetisation(
  field_T: Float64Array,
  nodes: ChainNodes,
  { kappa, branch = "initial" }: { kappa: number; branch?: ChainBranch },
): ChainCurve {
  const { cores, meanXiPerTesla } = coresFromNodes(nodes);
  const branches = twoBranches(kappa, cores);
  const shareWithin = { initial: 0.5, ascending: 0, descending: 1 }[requireBranch(branch)];
  const magnetisation = new Float64Array(field_T.length);
  const slope_per_T = new Float64Array(field_T.length);
  const perCoupling = new Float64Array(field_T.length);
  for (let i = 0; i < field_T.length; i++) {
    const xi = meanXiPerTesla * field_T[i];
    const share = xi > branches.coerciveXi ? 1 : xi < -branches.coerciveXi ? 0 : shareWithin;
    const state = branches.at(xi, share);
    magnetisation[i] = state.value;
    slope_per_T[i] = meanXiPerTesla * state.slope;
    perCoupling[i] = state.perCoupling;
  }
  return { magnetisation, slope_per_T, perCoupling };
}

/**
 * The same through a sequence of fields in the order in which they were passed, jumps included.
 *
 * @param field_T  mu0H in order of acquisition, T, shape [n]
 * @param options.start  branch occupied before the first field
 * @returns M/Ms, shape [n]
 */
export function chainHistory(
  field_T: Float64Array,
  nodes: ChainNodes,
  { kappa, start = "demagnetised" }: { kappa: number; start?: ChainStart },
): Float64Array {
  const { cores, meanXiPerTesla } = coresFromNodes(nodes);
  const xi = field_T.map((field) => meanXiPerTesla * field);
  return followBranch(xi, { kappa, start, cores }).magnetisation;
}

function requireBranch(branch: ChainBranch): ChainBranch {
  if (chainBranches.includes(branch)) return branch;
  throw new FerruleError("UnknownName", {
    path: "branch",
    found: String(branch),
    accepted: `one of ${chainBranches.join(", ")}`,
  });
}
