import {
  type ChainBranch,
  type ChainCurve,
  chainMagnetisation,
  langevinSlope,
  sizeNodes,
  xiPerTesla,
} from "../../physics/index.js";
import { splitBranches } from "./branches.js";
import type { MagnetisationCurve } from "./curve.js";
import type { CoreConditions } from "./log-normal-model.js";

/** Rows of a curve that share a branch. */
export interface BranchPart {
  readonly branch: ChainBranch;
  readonly rows: Int32Array;
  readonly field_T: Float64Array;
}

/** A sweep that starts below this share of the largest field starts from the demagnetised state. */
const demagnetisedShare = 0.1;

/**
 * Which branch each row belongs to: the curve's own word where it has one, else by the order of acquisition. A first sweep
 * that begins near zero field is an initial curve; later ones are ascending or descending.
 */
export function branchParts({ field_T, branch }: MagnetisationCurve): BranchPart[] {
  const all = Int32Array.from(field_T.keys());
  if (branch === "initial" || branch === "anhysteretic") return [{ branch: "initial", rows: all, field_T }];
  if (branch === "ascending" || branch === "descending") return [{ branch, rows: all, field_T }];
  const largest_T = field_T.reduce((most, field) => Math.max(most, Math.abs(field)), 0);
  return splitBranches(field_T).map(({ direction, rows }, k) => {
    // A turning point belongs to the sweep that ends in it.
    const own = Int32Array.from(k === 0 ? rows : rows.slice(1));
    const isInitial = k === 0 && Math.abs(field_T[rows[0]]) < demagnetisedShare * largest_T;
    return {
      branch: isInitial ? ("initial" as const) : direction,
      rows: own,
      field_T: Float64Array.from(own, (i) => field_T[i]),
    };
  });
}

/** Order of the chain's parameters. */
export const chainParameters = ["saturation", "median-diameter", "log-sd", "coupling", "background-slope"] as const;

/** Quadrature nodes of log-normal cores as the chain takes them. */
export function chainNodes(
  { medianDiameter_m, logSd }: { readonly medianDiameter_m: number; readonly logSd: number },
  { coreSaturation_A_per_m, temperature_K }: CoreConditions,
) {
  const sizes = { kind: "lognormal", weighting: "number", medianDiameter_m, logSd } as const;
  const { diameter_m, weight } = sizeNodes(sizes, { order: 3 });
  return { xiPerTesla: diameter_m.map((d) => xiPerTesla(d, coreSaturation_A_per_m, temperature_K)), weight };
}

/**
 * Magnetisation of chained log-normal cores on the branches of a curve, and its derivatives.
 *   M(B) = S m(B) + chi B,  m = sum_j w_j L(k_j (B + c m)),  c = kappa / mean k
 *   dm/d ln d0 = 3 B dm/dB (k_j goes as d0^3 and c as its inverse, so that m depends on B d0^3 alone)
 *   dm/ds (1 - c sum w k L') = sum_j w_j L'(x_j) (B + c m) dk_j/ds - c m (d ln mean k/ds) sum w k L'
 *   d ln k_j/ds = 3 (ln(d_j/d0)/s + 3 s),  d ln mean k/ds = 27 s
 * The shift of a jump with the parameters has no derivative.
 *
 * @param parts  from `branchParts`
 * Source      facts C5, C6; derived
 * Checked by  chain-fit.test.ts (differences), checks/tracer-fit
 */
export function chainProblem(field_T: Float64Array, parts: readonly BranchPart[], conditions: CoreConditions) {
  let last: { key: Float64Array; curves: ChainCurve[] } | undefined;
  const curvesAt = (parameters: Float64Array): ChainCurve[] => {
    // amplitude and background do not enter
    const key = parameters.slice(1, 4);
    if (last !== undefined && key.every((value, j) => value === last?.key[j])) return last.curves;
    const [medianDiameter_m, logSd, kappa] = key;
    const nodes = chainNodes({ medianDiameter_m, logSd }, conditions);
    const curves = parts.map((part) => chainMagnetisation(part.field_T, nodes, { kappa, branch: part.branch }));
    last = { key, curves };
    return curves;
  };
  return {
    model(parameters: Float64Array, out: Float64Array): Float64Array {
      const [S, , , , chi] = parameters;
      const curves = curvesAt(parameters);
      for (const [k, { rows }] of parts.entries())
        for (const [i, row] of rows.entries()) out[row] = S * curves[k].magnetisation[i] + chi * field_T[row];
      return out;
    },
    jacobian(parameters: Float64Array, out: Float64Array): void {
      const [S, d, s, kappa] = parameters;
      const curves = curvesAt(parameters);
      for (const [k, part] of parts.entries()) {
        const { magnetisation, slope_per_T, perCoupling } = curves[k];
        const perLogSd = s === 0 ? undefined : widthDerivative(part, curves[k], { d, s, kappa, conditions });
        for (const [i, row] of part.rows.entries()) {
          const at = 5 * row;
          out[at] = magnetisation[i];
          out[at + 1] = finite((3 * S * field_T[row] * slope_per_T[i]) / d);
          out[at + 2] = finite(S * (perLogSd?.[i] ?? 0));
          out[at + 3] = finite(S * perCoupling[i]);
          out[at + 4] = field_T[row];
        }
      }
    },
  };
}

/** dm/ds at fixed median and coupling; two mixed branches (initial, above 3) by differences. */
function widthDerivative(
  { branch, field_T }: BranchPart,
  { magnetisation }: ChainCurve,
  { d, s, kappa, conditions }: { d: number; s: number; kappa: number; conditions: CoreConditions },
): Float64Array {
  if (branch === "initial" && kappa > 3) {
    const h = s / 1000;
    const [up, down] = [s + h, s - h].map((logSd) => {
      const nodes = chainNodes({ medianDiameter_m: d, logSd }, conditions);
      return chainMagnetisation(field_T, nodes, { kappa, branch }).magnetisation;
    });
    return up.map((value, i) => (value - down[i]) / (2 * h));
  }
  const { xiPerTesla: k, weight } = chainNodes({ medianDiameter_m: d, logSd: s }, conditions);
  const medianXi = xiPerTesla(d, conditions.coreSaturation_A_per_m, conditions.temperature_K);
  const lever = k.map((each) => Math.log(each / medianXi) / s + 9 * s); // d ln k / ds
  const mean = k.reduce((sum, each, j) => sum + weight[j] * each, 0);
  const c = kappa / mean;
  return field_T.map((field, i) => {
    const local_T = field + c * magnetisation[i];
    let [rise, levered] = [0, 0];
    for (let j = 0; j < k.length; j++) {
      const part = weight[j] * k[j] * langevinSlope(k[j] * local_T);
      rise += part;
      levered += lever[j] * part;
    }
    return (levered * local_T - c * magnetisation[i] * 27 * s * rise) / (1 - c * rise);
  });
}

/** At the end of a branch the slope is infinite; there the row says nothing to first order. */
const finite = (value: number): number => (Number.isFinite(value) ? value : 0);
