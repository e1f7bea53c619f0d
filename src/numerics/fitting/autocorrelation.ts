/**
 * Lag-1 autocorrelation of fit residuals.
 *   r1 = Σ e_i·e_{i+1} / Σ e_i²
 * The mean is not subtracted: residuals of a right model scatter about zero, and an offset is itself a misfit.
 *
 * @param residuals  in the order of the independent variable, shape [n]
 * @returns r1 and its standard error 1/√n under independence; NaN for fewer than two or all-zero residuals
 *
 * Valid for   n above about 20 and few fitted parameters (each pulls r1 down by roughly 1/n).
 * Source      Box & Jenkins, Time Series Analysis (Bartlett's formula); common practice.
 * Checked by  autocorrelation.test.ts
 */
export function lagOneAutocorrelation(residuals: ArrayLike<number>): { r1: number; standardError: number } {
  let products = 0;
  let squares = 0;
  for (let i = 0; i < residuals.length; i++) {
    squares += residuals[i] ** 2;
    if (i > 0) products += residuals[i] * residuals[i - 1];
  }
  const defined = residuals.length >= 2 && squares > 0;
  return { r1: defined ? products / squares : Number.NaN, standardError: 1 / Math.sqrt(residuals.length) };
}
