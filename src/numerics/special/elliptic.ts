/**
 * Bulirsch's general complete elliptic integral.
 *   cel(kc, p, a, b) = ∫₀^{π/2} (a·cos²θ + b·sin²θ) / ((cos²θ + p·sin²θ)·√(cos²θ + kc²·sin²θ)) dθ
 * K = cel(kc, 1, 1, 1), E = cel(kc, 1, 1, kc²), Π(n) = cel(kc, 1 − n, 1, 1), with kc² = 1 − m.
 *
 * @param kc  complementary modulus, not 0 (there the integral is infinite unless b = 0): 0 gives NaN
 * @param p  not 0; below 0 the principal value
 * @param weights  [a, b]
 *
 * Valid for   every finite kc but 0. Relative error about 1e-15 (measured 2e-15) where a and b have one sign; else of
 *             the larger part.
 * Source      Bulirsch, Numerische Mathematik 13:305 (1969), procedure cel; from memory
 * Checked by  checks/coil-fields (mpmath quadrature of the definition)
 */
export function cel(kc: number, p: number, [a, b]: readonly [number, number]): number {
  let k = Math.abs(kc);
  if (!(k > 0) || p === 0) return Number.NaN;
  let [root, c, s] = p > 0 ? [Math.sqrt(p), a, b / Math.sqrt(p)] : principalValue(k, p, [a, b]);
  let product = k;
  let mean = 1;
  for (let step = 0; step < 60; step++) {
    const before = c;
    const ratio = product / root;
    c += s / root;
    s = 2 * (s + before * ratio);
    root += ratio;
    const former = mean;
    mean += k;
    if (Math.abs(former - k) <= 1e-8 * former) break;
    k = 2 * Math.sqrt(product);
    product = k * mean;
  }
  return ((Math.PI / 2) * (s + c * mean)) / (mean * (mean + root));
}

/** Start values for p < 0, which turn the principal value into an integral with a positive p. */
function principalValue(k: number, p: number, [a, b]: readonly [number, number]): [number, number, number] {
  const spread = 1 - p;
  const root = Math.sqrt((k * k - p) / spread);
  const c = (a - b) / spread;
  return [root, c, c * root - ((1 - k * k) * (b - a * p)) / (spread * spread * root)];
}

/**
 * Complete elliptic integrals of the first and second kind, both from one run of the arithmetic-geometric mean.
 *   K(m) = ∫₀^{π/2} dθ/√(1 − m·sin²θ),   E(m) = ∫₀^{π/2} √(1 − m·sin²θ) dθ
 *
 * @param m  the *parameter* k², not the modulus; below 1 (negative allowed)
 * @param out  [K, E]
 *
 * Valid for   m < 1, and m = 1 with K = Infinity, E = 1; above 1 NaN. Relative error below 1e-15 for the m given; near 1
 *             the rounding of 1 − m is the caller's (use `cel`, which takes kc).
 * Source      as `cel`
 * Checked by  checks/coil-fields (mpmath table)
 */
export function ellipticKE(m: number, out: Float64Array = new Float64Array(2)): Float64Array {
  const complement = 1 - m;
  if (complement === 0) {
    out[0] = Number.POSITIVE_INFINITY;
    out[1] = 1;
    return out;
  }
  const kc = Math.sqrt(complement);
  let product = kc;
  let mean = 1 + kc;
  let former = 1;
  let k = kc;
  let c = 1 + complement;
  let s = 2 * (complement + kc);
  // mean is the arithmetic mean times 2 at every step.
  let power = 2;
  while (Math.abs(former - k) > 1e-8 * former) {
    k = 2 * Math.sqrt(product);
    product = k * mean;
    const before = c;
    c += s / mean;
    s = 2 * (s + before * k);
    former = mean;
    mean += k;
    power *= 2;
  }
  out[0] = ((Math.PI / 2) * power) / mean;
  out[1] = ((Math.PI / 4) * (s / mean + c)) / mean;
  return out;
}

/** First kind alone; `ellipticKE` says the convention and the range. */
export const ellipticK = (m: number): number => ellipticKE(m)[0];

/** Second kind alone; `ellipticKE` says the convention and the range. */
export const ellipticE = (m: number): number => ellipticKE(m)[1];
