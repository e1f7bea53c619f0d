import { erfAtOne, farP, farQ, middleP, middleQ, smallP, smallQ, tailP, tailQ } from "./erf-coefficients.js";
import { polynomial } from "./polynomial.js";

/**
 * Error function.
 *   erf(x) = (2/√π)·∫₀ˣ exp(−t²) dt
 *
 * Valid for   every x; ±Infinity gives ±1, NaN gives NaN. Relative error below 1e-15 (measured 2e-16).
 * Source      FDLIBM s_erf.c, see erf-coefficients.ts
 * Checked by  checks/special-functions (80-digit table)
 */
export function erf(x: number): number {
  const size = Math.abs(x);
  if (size < 0.84375) return x + x * ratio(smallP, smallQ, x * x);
  const value = size < 1.25 ? erfAtOne + ratio(middleP, middleQ, size - 1) : 1 - tail(size);
  return x < 0 ? -value : value;
}

/**
 * Complementary error function, 1 − erf(x), without the cancellation for large x.
 *
 * Valid for   every x. Relative error below 1e-15 up to x = 26; beyond 26.5 the result is subnormal or 0.
 * Source      FDLIBM s_erf.c
 * Checked by  checks/special-functions (80-digit table)
 */
export function erfc(x: number): number {
  const size = Math.abs(x);
  if (size < 0.84375) {
    const excess = x * ratio(smallP, smallQ, x * x);
    return x < 0.25 ? 1 - (x + excess) : 0.5 - (x - 0.5 + excess);
  }
  if (size < 1.25) {
    const excess = ratio(middleP, middleQ, size - 1);
    return x < 0 ? 1 + erfAtOne + excess : 1 - erfAtOne - excess;
  }
  return x < 0 ? 2 - tail(size) : tail(size);
}

function ratio(p: readonly number[], q: readonly number[], x: number): number {
  return polynomial(p, x) / polynomial(q, x);
}

/** erfc for x >= 1.25. The square of x is split (24 bits, exact) because its rounding error would be amplified by x². */
function tail(x: number): number {
  if (x > 28) return 0;
  const s = 1 / (x * x);
  const correction = x < 1 / 0.35 ? ratio(tailP, tailQ, s) : ratio(farP, farQ, s);
  const z = Math.fround(x);
  return (Math.exp(-z * z - 0.5625) * Math.exp((z - x) * (z + x) + correction)) / x;
}
