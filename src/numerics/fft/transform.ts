import { FerruleError } from "../../errors.js";
import { bluesteinPlan } from "./bluestein.js";
import { mixedRadixPlan } from "./mixed-radix.js";
import type { FourierPlan } from "./plan.js";

/**
 * Prepares the transform of a length: mixed radix (4, 2, 3, 5, then other small primes) and, for a prime factor above
 * 31, Bluestein's chirp as a convolution of a power-of-two length. Keep the plan: its tables cost as much as a transform.
 * A plan has work space of its own: do not call it from inside itself.
 *
 * @param n  any length from 1
 *
 * Valid for   relative rms error below 1e-15·log2(n) (mixed radix), a few times that (Bluestein).
 * Source      Cooley & Tukey (1965), self-sorting form of Stockham; Bluestein (1970); from memory
 * Checked by  checks/fft (numpy), transform.test.ts (closed forms, direct sum)
 */
export function fourierPlan(n: number): FourierPlan {
  if (!(Number.isInteger(n) && n >= 1))
    throw new FerruleError("InvalidValue", {
      path: "length",
      found: String(n),
      accepted: "a whole number of samples from 1, e.g. 1632",
    });
  const transform = mixedRadixPlan(n) ?? bluesteinPlan(n);
  return {
    length: n,
    forward(data, out = data) {
      transform(placed(data, out, n));
      return out;
    },
    inverse(data, out = data) {
      // The inverse is the forward transform of the swapped parts, swapped back.
      swapParts(placed(data, out, n), 1);
      transform(out);
      swapParts(out, 1 / n);
      return out;
    },
  };
}

function placed(data: Float64Array, out: Float64Array, n: number): Float64Array {
  if (data.length !== 2 * n || out.length !== 2 * n)
    throw new FerruleError("ShapeMismatch", {
      path: "data",
      found: `${data.length} numbers${out === data ? "" : `, out ${out.length}`}`,
      accepted: `${2 * n} numbers: ${n} complex samples, real and imaginary part in turn`,
    });
  if (out !== data) out.set(data);
  return out;
}

function swapParts(data: Float64Array, factor: number): void {
  for (let i = 0; i < data.length; i += 2) {
    const re = data[i];
    data[i] = factor * data[i + 1];
    data[i + 1] = factor * re;
  }
}
