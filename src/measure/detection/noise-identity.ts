/** Power of the frequency in the one-sided density of the values: 2, 1 over-corrected, 0 white, -1 flicker, -2 random walk. */
export type NoiseExponent = 2 | 1 | 0 | -1 | -2;

const fewest = 30;

/**
 * Names the noise of a series averaged m at a time, from its lag-one autocorrelation r.
 *   r/(1 + r) = delta; difference the series until delta < 1/4; exponent = -2 (delta + differences), rounded
 * (fractionally integrated white noise has r = delta/(1 - delta); one difference takes delta down by one).
 *
 * @param values  [M]
 * @param factor  m
 * @returns the exponent, kept within 2 and -2 (steeper noise counts as -2), or `undefined` below 30 averages
 *
 * Valid for   noise. Differences take a straight drift away, so it is the noise upon it that is named.
 *
 * Source      Riley & Greenhall, 18th EFTF (2004), as in NIST SP 1065 section 5.5.6; from memory
 * Checked by  noise-identity.test.ts (made noises), checks/receive-chain
 */
export function identifyNoise(values: Float64Array, factor: number): NoiseExponent | undefined {
  let z = blockMeans(values, factor);
  if (z.length < fewest) return undefined;
  for (let differences = 0; ; differences++) {
    const r = lagOne(z);
    const delta = r / (1 + r);
    if (delta < 0.25 || differences === 2) return asExponent(Math.round(-2 * (delta + differences)));
    z = Float64Array.from({ length: z.length - 1 }, (_, i) => z[i + 1] - z[i]);
  }
}

function asExponent(power: number): NoiseExponent {
  const known: readonly NoiseExponent[] = [-2, -1, 0, 1, 2];
  return known[Math.min(2, Math.max(-2, power)) + 2];
}

function blockMeans(values: Float64Array, factor: number): Float64Array {
  return Float64Array.from({ length: Math.floor(values.length / factor) }, (_, block) => {
    let sum = 0;
    for (let i = block * factor; i < (block + 1) * factor; i++) sum += values[i];
    return sum / factor;
  });
}

/** Lag-one autocorrelation about the mean; 0 for a series without any variation. */
function lagOne(z: Float64Array): number {
  const mean = z.reduce((sum, value) => sum + value, 0) / z.length;
  let [products, squares] = [0, 0];
  for (let i = 0; i < z.length; i++) {
    squares += (z[i] - mean) ** 2;
    if (i > 0) products += (z[i] - mean) * (z[i - 1] - mean);
  }
  return squares === 0 ? 0 : products / squares;
}
