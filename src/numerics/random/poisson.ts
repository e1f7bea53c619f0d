import { FerruleError } from "../../errors.js";
import { stirlingRest } from "../special/log-gamma.js";
import { logOnePlusMinus } from "../special/log1p-minus.js";
import { nextUnit } from "./sfc64.js";

/**
 * Next Poisson number: multiplication of uniforms below a mean of 10, transformed rejection with squeeze above.
 *
 * @param mean  0 to 1e15
 *
 * Source      Knuth, The Art of Computer Programming 2, 3.4.1; Hörmann, Insurance Math. Econ. 12:39 (1993), PTRS;
 *             from memory. Deviance form of the probability after Loader (2000).
 * Checked by  checks/random (value for value against numpy's sampler on the same bits), stream.test.ts
 */
export function nextPoisson(s: Int32Array, mean: number): number {
  if (!(mean >= 0 && mean <= 1e15))
    throw new FerruleError("InvalidValue", {
      path: "mean",
      found: String(mean),
      accepted: "a mean from 0 to 1e15, e.g. 12.5",
    });
  if (mean === 0) return 0;
  return mean < 10 ? byProduct(s, mean) : byRejection(s, mean);
}

function byProduct(s: Int32Array, mean: number): number {
  const limit = Math.exp(-mean);
  let product = nextUnit(s);
  let count = 0;
  while (product > limit) {
    product *= nextUnit(s);
    count++;
  }
  return count;
}

function byRejection(s: Int32Array, mean: number): number {
  const root = Math.sqrt(mean);
  const b = 0.931 + 2.53 * root;
  const a = -0.059 + 0.02483 * b;
  const inverseAlpha = 1.1239 + 1.1328 / (b - 3.4);
  const squeeze = 0.9277 - 3.6224 / (b - 2);
  for (;;) {
    const u = nextUnit(s) - 0.5;
    const v = nextUnit(s);
    const us = 0.5 - Math.abs(u);
    const k = Math.floor(((2 * a) / us + b) * u + mean + 0.43);
    if (us >= 0.07 && v <= squeeze) return k;
    if (k < 0 || (us < 0.013 && v > us)) continue;
    const left = Math.log(v) + Math.log(inverseAlpha) - Math.log(a / (us * us) + b);
    if (left <= logProbability(k, mean)) return k;
  }
}

/** ln(mean^k·e^(−mean)/k!) in deviance form: for a mean of 1e12 the plain terms would cancel to three digits. */
function logProbability(k: number, mean: number): number {
  if (k === 0) return -mean;
  return k * logOnePlusMinus((mean - k) / k) - 0.5 * Math.log(2 * Math.PI * k) - stirlingRest(k);
}
