import type { DerivedValue } from "./fit-result.js";

/**
 * A derived value with its standard uncertainty to first order.
 *   u^2 = g' C g,  g_j = (f(p + h e_j) - f(p - h e_j)) / 2h,  h = u_j / 100
 * Parameters without a finite variance count as exact when f does not move with them, else the uncertainty is NaN.
 *
 * @param f  of the parameters
 * @param options.covariance  row-major, [p, p]
 *
 * Source      JCGM 100:2008, eq. 13 (facts Q1)
 * Checked by  propagate.test.ts
 */
export function derive(
  { name, unit }: { readonly name: string; readonly unit: string },
  f: (parameters: readonly number[]) => number,
  { values, covariance }: { readonly values: ArrayLike<number>; readonly covariance: Float64Array },
): DerivedValue {
  const p = values.length;
  const at = Array.from(values);
  const moved = (j: number, by: number) => f(at.map((value, i) => (i === j ? value + by : value)));
  const gradient = at.map((value, j) => {
    const u = Math.sqrt(covariance[j * p + j]);
    if (u > 0) return (moved(j, u / 100) - moved(j, -u / 100)) / (u / 50);
    const step = Math.max(Math.abs(value), 1e-9) * 1e-6;
    return moved(j, step) === moved(j, -step) ? 0 : Number.NaN;
  });
  let variance = 0;
  for (let i = 0; i < p; i++)
    for (let j = 0; j < p; j++)
      if (gradient[i] !== 0 && gradient[j] !== 0) variance += gradient[i] * gradient[j] * covariance[i * p + j];
  return { name, value: f(at), standardUncertainty: Math.sqrt(Math.max(0, variance)), unit };
}
