import { mixedRadixPlan } from "./mixed-radix.js";
import type { InPlaceTransform } from "./plan.js";

/**
 * Transform of any length as a convolution with a chirp (Bluestein).
 *   jk = (j² + k² − (k−j)²)/2  =>  X_k = w_k·Σ_j (x_j·w_j)·w̄_{k−j},  w_j = e^(−iπ·j²/n)
 * The convolution runs in a power of two of at least 2n − 1.
 */
export function bluesteinPlan(n: number): InPlaceTransform {
  let size = 1;
  while (size < 2 * n - 1) size *= 2;
  const transform = mixedRadixPlan(size)!; // a power of two always has one
  const chirp = new Float64Array(2 * n);
  for (let j = 0; j < n; j++) {
    const angle = (-Math.PI * squareModulo(j, 2 * n)) / n;
    chirp[2 * j] = Math.cos(angle);
    chirp[2 * j + 1] = Math.sin(angle);
  }
  const kernel = new Float64Array(2 * size);
  for (let j = 0; j < n; j++)
    for (const at of j === 0 ? [0] : [j, size - j]) {
      kernel[2 * at] = chirp[2 * j] / size; // the inverse transform's scale goes in here
      kernel[2 * at + 1] = -chirp[2 * j + 1] / size;
    }
  transform(kernel);
  const work = new Float64Array(2 * size);
  return (data) => {
    work.fill(0);
    for (let j = 0; j < 2 * n; j += 2) {
      const [re, im, wr, wi] = [data[j], data[j + 1], chirp[j], chirp[j + 1]];
      work[j] = re * wr - im * wi;
      work[j + 1] = re * wi + im * wr;
    }
    transform(work);
    for (let j = 0; j < 2 * size; j += 2) {
      const [re, im, wr, wi] = [work[j], work[j + 1], kernel[j], kernel[j + 1]];
      // Stored with parts swapped: the forward transform of that is the inverse, parts swapped.
      work[j] = re * wi + im * wr;
      work[j + 1] = re * wr - im * wi;
    }
    transform(work);
    for (let j = 0; j < 2 * n; j += 2) {
      const [re, im, wr, wi] = [work[j + 1], work[j], chirp[j], chirp[j + 1]];
      data[j] = re * wr - im * wi;
      data[j + 1] = re * wi + im * wr;
    }
  };
}

/** j² mod m without losing bits: the plain square leaves 2^53 at j near 9.5e7, the reduction keeps the angle small. */
function squareModulo(j: number, m: number): number {
  return j < 9e7 ? (j * j) % m : Number((BigInt(j) * BigInt(j)) % BigInt(m));
}
