/**
 * Taylor coefficients of the Langevin function, 4^k B_2k / (2k)! for k = 1..20, as the nearest doubles.
 *   L(xi) = sum c_k xi^(2k-1),  converges for |xi| < pi
 * Successive terms fall by (xi/pi)^2: at |xi| = 1 the first one left out (k = 21) is 3e-21 of L, 5e-18 of L''.
 *
 * Source      Bernoulli-number series of coth; derived. Printed by checks/langevin/make.py --coefficients.
 * Checked by  checks/langevin (60-digit table)
 */
const coefficients = [
  0.3333333333333333, -0.022222222222222223, 0.0021164021164021165, -0.00021164021164021165, 2.1377799155576935e-5,
  -2.1644042808063972e-6, 2.1925947851873778e-7, -2.2214608789979678e-8, 2.2507846516808994e-9, -2.2805151204592183e-10,
  2.3106432599002624e-11, -2.3411706819824882e-12, 2.3721017400233653e-13, -2.4034415333307705e-14,
  2.4351954029183367e-15, -2.4673688045172075e-16, 2.499967277122081e-17, -2.532996435740635e-18, 2.566461970282629e-19,
  -2.6003696460137274e-20,
];

/** L(xi)/xi = sum c_k xi^(2k-2). */
export const ratioSeries: readonly number[] = coefficients;

/** L'(xi) = sum (2k-1) c_k xi^(2k-2). */
export const slopeSeries: readonly number[] = coefficients.map((c, i) => (2 * i + 1) * c);

/** L''(xi)/xi = sum (2k+1)(2k) c_(k+1) xi^(2k-2). */
export const curvatureSeries: readonly number[] = coefficients.slice(1).map((c, i) => (2 * i + 3) * (2 * i + 2) * c);

/** Horner's rule in x = xi^2. */
export function evaluateSeries(series: readonly number[], x: number): number {
  let sum = 0;
  for (let k = series.length - 1; k >= 0; k--) sum = sum * x + series[k];
  return sum;
}
