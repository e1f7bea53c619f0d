import { butterflies, type Pass } from "./butterflies.js";
import { genericPass } from "./generic-butterfly.js";
import type { InPlaceTransform } from "./plan.js";

/** Beyond this a prime's own n² butterfly loses to Bluestein's convolution. */
const largestRadix = 31;

/**
 * Transform of a length whose prime factors are small; `undefined` for others.
 * One pass per factor r, self-sorting (Stockham): with l the length still to do, m = l/r and s = n/l,
 *   y[q + s(rp + k)] = e^(−2πi·pk/l)·Σ_j x[q + s(p + mj)]·e^(−2πi·jk/r),  0 <= p < m, 0 <= q < s
 */
export function mixedRadixPlan(n: number): InPlaceTransform | undefined {
  const factors = factorise(n);
  if (factors === undefined) return undefined;
  const passes: { run: Pass; m: number; s: number; twiddles: Float64Array }[] = [];
  let l = n;
  for (const r of factors) {
    passes.push({ run: butterflies[r] ?? genericPass(r), m: l / r, s: n / l, twiddles: twiddlesOf(l, r) });
    l /= r;
  }
  const work = new Float64Array(2 * n);
  return (data) => {
    let from: Float64Array = data;
    let to: Float64Array = work;
    for (const { run, m, s, twiddles } of passes) {
      run(from, to, { m, s, twiddles });
      [from, to] = [to, from];
    }
    if (from !== data) data.set(from);
  };
}

/** Fours first, then 2, 3, 5 and larger primes. */
function factorise(n: number): number[] | undefined {
  const factors: number[] = [];
  let rest = n;
  for (const r of [4, 2, 3, 5]) {
    while (rest % r === 0) {
      factors.push(r);
      rest /= r;
    }
  }
  for (let r = 7; r <= largestRadix && rest > 1; r += 2) {
    while (rest % r === 0) {
      factors.push(r);
      rest /= r;
    }
  }
  return rest === 1 ? factors : undefined;
}

/** e^(−2πi·pk/l) for p = 0..l/r−1 and k = 1..r−1, interleaved. */
function twiddlesOf(l: number, r: number): Float64Array {
  const m = l / r;
  const table = new Float64Array(2 * m * (r - 1));
  for (let p = 0, at = 0; p < m; p++)
    for (let k = 1; k < r; k++, at += 2) {
      const angle = (-2 * Math.PI * ((p * k) % l)) / l;
      table[at] = Math.cos(angle);
      table[at + 1] = Math.sin(angle);
    }
  return table;
}
