import { stirlingRest } from "./log-gamma.js";
import { logOnePlusMinus } from "./log1p-minus.js";

/**
 * Regularised incomplete beta function.
 *   I_x(a, b) = (1/B(a, b))·∫₀ˣ t^(a−1)·(1−t)^(b−1) dt
 * A continued fraction on the side where it converges fast.
 *
 * @param shapes  [a, b], both > 0
 * @param x  in [0, 1]
 * @param y  1 − x, where the caller knows it better than by subtraction
 * @returns I_x and 1 − I_x, so that neither tail is lost by subtraction; NaN outside the domain
 *
 * Valid for   a, b up to 1e5 (b = 1/2: a up to 5e5); relative error of the smaller one below 1e-13
 *             (measured 1e-14 up to 1e3, 7e-14 above).
 * Source      Didonato & Morris, ACM TOMS 18:360 (1992), "bfrac"; prefactor in the deviance form of Loader (2000);
 *             both from memory
 * Checked by  checks/special-functions
 */
export function incompleteBeta(
  [a, b]: readonly [number, number],
  x: number,
  y = 1 - x,
): { readonly lower: number; readonly upper: number } {
  const isInside = a > 0 && b > 0 && x >= 0 && y >= 0 && Number.isFinite(a) && Number.isFinite(b);
  if (!isInside) return { lower: Number.NaN, upper: Number.NaN };
  if (x === 0) return { lower: 0, upper: 1 };
  if (y === 0) return { lower: 1, upper: 0 };
  if (x * (a + b + 2) < a + 1) {
    const lower = betaDensity([a, b], x, y) * fraction([a, b], x, y);
    return { lower, upper: 1 - lower };
  }
  const upper = betaDensity([a, b], x, y) * fraction([b, a], y, x);
  return { lower: 1 - upper, upper };
}

/** x^a·y^b/B(a, b) around its peak x0 = a/(a+b): a·(ln(1+u) − u) + b·(ln(1+v) − v), u = x/x0 − 1, v = y/y0 − 1. */
function betaDensity([a, b]: readonly [number, number], x: number, y: number): number {
  const sum = a + b;
  const d = x * b - y * a; // = a·u = −b·v
  const exponent = a * logOnePlusMinus(d / a, (x * sum) / a) + b * logOnePlusMinus(-d / b, (y * sum) / b);
  const rest = stirlingRest(sum) - stirlingRest(a) - stirlingRest(b);
  return Math.sqrt((a / sum) * (b / (2 * Math.PI))) * Math.exp(exponent + rest);
}

/**
 * Continued fraction for I_x(a, b)·B(a, b)/(x^a·y^b), in Didonato & Morris's even form: every partial denominator is
 * built from λ = (a+b)·y − b = a − (a+b)·x, taken from the smaller of x and y, which does not cancel where x is close to 1 (large degrees of freedom of Student's t).
 */
function fraction([a, b]: readonly [number, number], x: number, y: number): number {
  const c = 1 + (x < y ? a - (a + b) * x : (a + b) * y - b);
  const c0 = b / a;
  const c1 = 1 + 1 / a;
  // Numerators and denominators of two consecutive convergents, rescaled so that the newest denominator is 1.
  let [an, bn, value] = [0, c1 / c, c1 / c];
  for (let n = 1; n < 1e5; n++) {
    const p = (n - 1) / a + 1;
    const s = a + 2 * n - 1;
    const w = n * (b - n) * x;
    const alpha = p * (p + c0) * (a / s) ** 2 * w * x;
    const beta = n + w / s + ((n / a + 1) / (c1 + (2 * n) / a)) * (c + n * (1 + y));
    const top = alpha * an + beta * value;
    const bottom = alpha * bn + beta;
    const next = top / bottom;
    const isSettled = Math.abs(next - value) <= 1e-16 * next;
    [an, bn, value] = [value / bottom, 1 / bottom, next];
    if (isSettled) break;
  }
  return value;
}
