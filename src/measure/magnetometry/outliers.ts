import type { FitAdvisory } from "./fit-advisory.js";

/** A point far off the rest. */
export interface Outlier {
  /** Row of the data, counted from 0 in the order of acquisition. */
  readonly row: number;
  /** Residual over the robust scatter of all residuals. */
  readonly robustResidual: number;
  /** How far the parameter that moves most would move were the row left out, in its own standard uncertainties. */
  readonly influence: number;
  /** Name of that parameter; absent where no covariance exists. */
  readonly parameter?: string;
  readonly reason: "residual" | "influence";
}

/**
 * Robust residual beyond which a row is named: 0.006 % of normal residuals in long curves. In 30 rows the scatter itself is
 * known to 20 %, and the tail is that of Student's t with some 11 degrees of freedom: 0.2 %.
 */
const residualLimit = 4;
/** A row that moves a parameter by more than twice its own uncertainty decides that parameter alone. */
const influenceLimit = 2;

/**
 * Rows that stand out: by their residual against the robust scatter, or because a parameter hangs on them.
 *   scatter = 1.4826 median |r|
 *   leaving row i out moves the parameters by -C j_i r_i / (1 - h_i),  h_i = j_i' C j_i  (first order)
 * Nothing is dropped: a row is named, and whether it is a fault is for the one who measured it.
 *
 * @param residuals  normalised, (observed - fitted)/sigma, shape [n]
 * @param options.jacobian  d fitted / d parameter over sigma, row-major, [n, p]; p parameters that were free
 * @param options.covariance  of the same parameters, [p, p]
 * @param options.names  of the same parameters
 *
 * Valid for   more than twice as many rows as parameters
 * Source      Rousseeuw & Croux, JASA 88:1273 (1993) for the scatter; Cook & Weisberg, Residuals and Influence in
 *             Regression (1982) for leaving one out; from memory
 * Checked by  outliers.test.ts (rows left out one by one)
 */
export function findOutliers(
  residuals: Float64Array,
  {
    jacobian,
    covariance,
    names,
  }: { readonly jacobian: Float64Array; readonly covariance: Float64Array; readonly names: readonly string[] },
): Outlier[] {
  const scatter = robustScatter(residuals);
  const p = names.length;
  const list: Outlier[] = [];
  for (let row = 0; row < residuals.length; row++) {
    const robustResidual = scatter > 0 ? residuals[row] / scatter : 0;
    const { influence, index } = strongest(residuals[row], {
      jacobian: jacobian.subarray(row * p, (row + 1) * p),
      covariance,
    });
    const isFar = Math.abs(robustResidual) > residualLimit;
    // A decisive row with an ordinary residual is a matter of design (the only point near saturation), not an outlier.
    const isDecisive = influence > influenceLimit && Math.abs(robustResidual) > residualLimit / 2;
    if (!isFar && !isDecisive) continue;
    const parameter = index < 0 ? {} : { parameter: names[index] };
    list.push({ row, robustResidual, influence, ...parameter, reason: isFar ? "residual" : "influence" });
  }
  return list;
}

/** More than this share of the rows beyond the limit is no handful of bad points. */
const handful = 0.05;
/** Rows named one by one; the rest is counted. */
const namedRows = 5;

/** Outliers in words: each by its row while they are few, together where they are many. */
export function outlierAdvisories(
  outliers: readonly Outlier[],
  { rows, rowName }: { readonly rows: number; readonly rowName: (row: number) => string },
): FitAdvisory[] {
  const worst = [...outliers].sort((a, b) => Math.abs(b.robustResidual) - Math.abs(a.robustResidual));
  const named = worst.slice(0, namedRows).map(({ row, robustResidual, influence, parameter }): FitAdvisory => {
    const moves =
      parameter === undefined
        ? ""
        : `, leaving it out would move ${parameter} by ${influence.toPrecision(2)} of its standard uncertainty`;
    const message = `${rowName(row)} lies ${Math.abs(robustResidual).toPrecision(2)} robust standard deviations off the fit${moves}; it was kept`;
    return { code: "outlier", message };
  });
  if (outliers.length <= Math.max(2, handful * rows)) return named;
  const first = worst.slice(0, namedRows).map(({ row }) => rowName(row));
  const message = `${outliers.length} of ${rows} rows lie more than ${residualLimit} robust standard deviations off the fit: the scatter has heavy tails or the model fails in places, the worst at ${first.join(", ")}; all were kept`;
  return [{ code: "outlier", message }];
}

/** 1.4826 median |r|: the standard deviation for normal residuals, whatever a few of them do. */
export function robustScatter(residuals: Float64Array): number {
  const sizes = residuals.map(Math.abs).sort();
  const middle = Math.floor(sizes.length / 2);
  const median = sizes.length % 2 === 1 ? sizes[middle] : (sizes[middle - 1] + sizes[middle]) / 2;
  return sizes.length === 0 ? 0 : 1.4826 * median;
}

function strongest(
  residual: number,
  { jacobian, covariance }: { jacobian: Float64Array; covariance: Float64Array },
): { influence: number; index: number } {
  const p = jacobian.length;
  const moved = new Float64Array(p);
  for (let a = 0; a < p; a++) for (let b = 0; b < p; b++) moved[a] += covariance[a * p + b] * jacobian[b];
  const leverage = moved.reduce((sum, value, a) => sum + value * jacobian[a], 0);
  let [influence, index] = [0, -1];
  for (let a = 0; a < p; a++) {
    const size = Math.abs((moved[a] * residual) / Math.max(1e-12, 1 - leverage)) / Math.sqrt(covariance[a * p + a]);
    if (size > influence) [influence, index] = [size, a];
  }
  return { influence, index };
}
