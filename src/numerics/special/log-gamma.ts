import { polynomial } from "./polynomial.js";

const halfLogTwoPi = 0.9189385332046727; // ln(2π)/2
const oneMinusEuler = 0.42278433509846713; // 1 − γ

/**
 * Logarithm of the gamma function for positive arguments.
 *   near 1 and 2: ln Γ(2+z) = (1−γ)·z + Σ_{k>=2} (−1)^k·(ζ(k)−1)·z^k/k, which keeps all digits at its zeros
 *   from 10 on: Stirling's series; between: recurrence
 *
 * Valid for   x > 0, relative error below 4e-15; 0 gives Infinity, negative x NaN.
 * Source      DLMF 5.7.3, 5.11.1 (from memory); ζ(k) − 1 from a 50-digit computation
 * Checked by  checks/special-functions
 */
export function logGamma(x: number): number {
  if (!(x > 0)) return x === 0 ? Number.POSITIVE_INFINITY : Number.NaN;
  if (x < 0.5) return logGamma(1 + x) - Math.log(x);
  if (x < 1.5) return aroundTwo(x - 1) - Math.log1p(x - 1);
  if (x <= 2.5) return aroundTwo(x - 2);
  if (x >= 10) return x === Number.POSITIVE_INFINITY ? x : (x - 0.5) * Math.log(x) - x + halfLogTwoPi + stirlingRest(x);
  // Down to (1.5, 2.5]: the product of the steps is a plain number, one logarithm suffices.
  let product = 1;
  let y = x;
  while (y > 2.5) {
    y -= 1;
    product *= y;
  }
  return aroundTwo(y - 2) + Math.log(product);
}

/**
 * What Stirling's formula leaves: Δ(x) = ln Γ(x) − [(x − ½)·ln x − x + ½·ln 2π].
 * Distribution functions of large parameters are built from these small differences instead of from huge ln Γ.
 */
export function stirlingRest(x: number): number {
  if (x < 10) return logGamma(x) - ((x - 0.5) * Math.log(x) - x + halfLogTwoPi);
  return polynomial(stirling, 1 / (x * x)) / x;
}

/** B_2k/(2k(2k−1)): nine terms leave less than 1e-17 at x = 10. */
const stirling = [
  1 / 12,
  -1 / 360,
  1 / 1260,
  -1 / 1680,
  1 / 1188,
  -691 / 360360,
  1 / 156,
  -3617 / 122400,
  43867 / 244188,
];

function aroundTwo(z: number): number {
  let sum = 0;
  for (let i = zetaMinusOne.length - 1; i >= 0; i--) {
    const k = i + 2;
    sum = sum * z + (k % 2 === 0 ? 1 : -1) * (zetaMinusOne[i] / k);
  }
  return z * (oneMinusEuler + z * sum);
}

/** ζ(k) − 1 for k = 2, 3, ... */
const zetaMinusOne = [
  0.6449340668482264, 0.2020569031595943, 0.08232323371113819, 0.03692775514336993, 0.01734306198444914,
  0.008349277381922827, 0.00407735619794434, 0.0020083928260822143, 0.0009945751278180853, 0.0004941886041194645,
  0.0002460865533080483, 0.00012271334757848915, 6.124813505870483e-5, 3.058823630702049e-5, 1.528225940865187e-5,
  7.637197637899763e-6, 3.81729326499984e-6, 1.908212716553939e-6, 9.539620338727962e-7, 4.769329867878064e-7,
  2.38450502727733e-7, 1.1921992596531106e-7, 5.960818905125948e-8, 2.980350351465228e-8, 1.490155482836504e-8,
  7.45071178983543e-9,
];
