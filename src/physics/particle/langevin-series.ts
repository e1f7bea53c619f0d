/**
 * Taylor coefficients of the Langevin function, 4^k B_2k / (2k)! for k = 1..34, as the nearest doubles.
 *   L(xi) = sum c_k xi^(2k-1),  converges for |xi| < pi
 * Successive terms fall by (xi/pi)^2. At |xi| = 1 the first one left out of 20 is 3e-21 of L, 3e-20 of L'; at |xi| = 1.5
 * the first one left out of 33 is 1e-18 of L''.
 *
 * Source      Bernoulli-number series of coth; derived. Printed by checks/langevin/make.py --coefficients.
 * Checked by  checks/langevin (60-digit table)
 */
const coefficients = [
  0.3333333333333333, -0.022222222222222223, 0.0021164021164021165, -0.00021164021164021165, 2.1377799155576935e-5,
  -2.1644042808063972e-6, 2.1925947851873778e-7, -2.2214608789979678e-8, 2.2507846516808994e-9, -2.2805151204592183e-10,
  2.3106432599002624e-11, -2.3411706819824882e-12, 2.3721017400233653e-13, -2.4034415333307705e-14,
  2.4351954029183367e-15, -2.4673688045172075e-16, 2.499967277122081e-17, -2.532996435740635e-18, 2.566461970282629e-19,
  -2.6003696460137274e-20, 2.63472530441538e-21, -2.669534864157395e-22, 2.704804322109031e-23, -2.7405397543699514e-24,
  2.7767473173164437e-25, -2.813433248661879e-26, 2.8506038685312917e-27, -2.8882655805501746e-28,
  2.926424872947676e-29, -2.9650883196743643e-30, 3.00426258153477e-31, -3.043954407334882e-32, 3.08417063504481e-33,
  -3.124918192976807e-34,
];

const upToOne = coefficients.slice(0, 20);

/** L(xi)/xi = sum c_k xi^(2k-2), for |xi| <= 1. */
export const ratioSeries: readonly number[] = upToOne;

/** L'(xi) = sum (2k-1) c_k xi^(2k-2), for |xi| <= 1. */
export const slopeSeries: readonly number[] = upToOne.map((c, i) => (2 * i + 1) * c);

/** L''(xi)/xi = sum (2k+1)(2k) c_(k+1) xi^(2k-2), for |xi| <= 1.5. */
export const curvatureSeries: readonly number[] = coefficients.slice(1).map((c, i) => (2 * i + 3) * (2 * i + 2) * c);

/** Horner's rule in x = xi^2. */
export function evaluateSeries(series: readonly number[], x: number): number {
  let sum = 0;
  for (let k = series.length - 1; k >= 0; k--) sum = sum * x + series[k];
  return sum;
}
