import type { NoiseExponent } from "./noise-identity.js";

/**
 * Equivalent degrees of freedom of the overlapping Allan variance for noise of a power law: those of a chi-square with
 * the same mean and variance.
 *   edf = J^2 / sum_(|k| < J) (J - |k|) rho(k)^2,  J = M - 2m + 1 terms
 *   rho(k) = R(k)/R(0),  R(k) = 6 s(k) - 4 s(k+m) - 4 s(k-m) + s(k+2m) + s(k-2m)
 * s is the generalised autocovariance of the running sums: white values -|t|, flicker t^2 ln|t|, random walk |t|^3;
 * differences of white noise delta(t); in between (flicker phase) minus the sum of 1/(2j - 1), j = 1 .. t.
 *
 * @param count  M values
 * @param factor  m averaged
 *
 * Valid for   Gaussian noise, m to M/2. The sum stops at k = 16m: rho is zero beyond 2m for white and random walk, and
 *             falls as (2/5.5)(m/k)^2 for flicker, so what is left out is below 1e-5 of the sum.
 * Source      Greenhall & Riley, 35th PTTI (2003), combined algorithm, here summed exactly; from memory, derived
 * Checked by  checks/receive-chain (traces of the covariance matrices of sampled noises)
 */
export function allanFreedom(count: number, factor: number, exponent: NoiseExponent): number {
  const terms = count - 2 * factor + 1;
  const lags = Math.min(terms, 16 * factor + 1);
  const s = generalisedAutocovariance(exponent, lags + 2 * factor);
  const at = (k: number) => s[Math.abs(k)];
  const correlate = (k: number) =>
    6 * at(k) - 4 * at(k + factor) - 4 * at(k - factor) + at(k + 2 * factor) + at(k - 2 * factor);
  const own = correlate(0);
  let sum = terms;
  for (let k = 1; k < lags; k++) sum += 2 * (terms - k) * (correlate(k) / own) ** 2;
  return terms ** 2 / sum;
}

/** s(t) for t = 0 .. last; only differences of it matter, so constants and scale are free. */
function generalisedAutocovariance(exponent: NoiseExponent, last: number): Float64Array {
  if (exponent === 1) return flickerOfDifferences(last);
  return Float64Array.from({ length: last + 1 }, (_, t) => {
    switch (exponent) {
      case 2:
        return t === 0 ? 1 : 0;
      case 0:
        return -t;
      case -1:
        return t === 0 ? 0 : t * t * Math.log(t);
      case -2:
        return t ** 3;
    }
  });
}

/** Running sums with the density 1/|2 sin(w/2)|: s(0) - s(t) is proportional to the sum of 1/(2j - 1), j = 1 .. t. */
function flickerOfDifferences(last: number): Float64Array {
  const s = new Float64Array(last + 1);
  for (let t = 1; t <= last; t++) s[t] = s[t - 1] - 1 / (2 * t - 1);
  return s;
}
