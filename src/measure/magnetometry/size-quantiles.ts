/**
 * Quantile of a distribution given as shares on an even logarithmic grid, each share spread evenly over its cell in ln d.
 *
 * @param diameter_m  centres, ascending, even in ln d, shape [m]
 * @param share  not negative, any sum above 0, shape [m]
 * @param q  0 to 1
 * @returns m; NaN for no particles at all
 */
export function gridQuantile(diameter_m: Float64Array, share: Float64Array, q: number): number {
  const total = share.reduce((sum, value) => sum + value, 0);
  if (!(total > 0)) return Number.NaN;
  const step = Math.log(diameter_m[1] / diameter_m[0]);
  let below = 0;
  for (let j = 0; j < share.length; j++) {
    if (share[j] > 0 && below + share[j] >= q * total)
      return diameter_m[j] * Math.exp(step * ((q * total - below) / share[j] - 0.5));
    below += share[j];
  }
  return diameter_m[share.length - 1] * Math.exp(step / 2);
}

/** Shares of particle number from shares of volume: each divided by d^3, sum 1. */
export function numberShares(diameter_m: Float64Array, volumeShare: Float64Array): Float64Array {
  const scale = diameter_m[0]; // keeps d^3 away from 1e-27
  const raw = volumeShare.map((share, j) => share / (diameter_m[j] / scale) ** 3);
  const total = raw.reduce((sum, value) => sum + value, 0);
  return raw.map((value) => value / total);
}

/** Quantile of a sample, linear between order statistics. */
export function sampleQuantile(sorted: ArrayLike<number>, q: number): number {
  const position = q * (sorted.length - 1);
  const low = Math.floor(position);
  const high = Math.min(sorted.length - 1, low + 1);
  return sorted[low] + (position - low) * (sorted[high] - sorted[low]);
}
