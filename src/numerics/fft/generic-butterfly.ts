import type { Pass } from "./butterflies.js";

/**
 * Pass for an odd radix r without a butterfly of its own, in about r² operations per output group.
 * Pairs j and r−j share their sums and differences, which halves the work.
 */
export function genericPass(r: number): Pass {
  const half = (r - 1) / 2;
  const cos = Float64Array.from({ length: r }, (_, k) => Math.cos((2 * Math.PI * k) / r));
  const sin = Float64Array.from({ length: r }, (_, k) => Math.sin((2 * Math.PI * k) / r));
  const plus = new Float64Array(2 * half);
  const minus = new Float64Array(2 * half);
  return (x, y, { m, s, twiddles }) => {
    const step = 2 * s * m;
    for (let p = 0; p < m; p++)
      for (let q = 0; q < s; q++) {
        const i = 2 * (q + s * p);
        const o = 2 * (q + s * r * p);
        const ar = x[i];
        const ai = x[i + 1];
        let totalR = ar;
        let totalI = ai;
        for (let j = 1; j <= half; j++) {
          const a = i + j * step;
          const b = i + (r - j) * step;
          const at = 2 * (j - 1);
          plus[at] = x[a] + x[b];
          plus[at + 1] = x[a + 1] + x[b + 1];
          minus[at] = x[a] - x[b];
          minus[at + 1] = x[a + 1] - x[b + 1];
          totalR += plus[at];
          totalI += plus[at + 1];
        }
        y[o] = totalR;
        y[o + 1] = totalI;
        for (let k = 1; k <= half; k++) {
          let er = ar;
          let ei = ai;
          let fr = 0;
          let fi = 0;
          for (let j = 1, index = k; j <= half; j++) {
            const at = 2 * (j - 1);
            er += cos[index] * plus[at];
            ei += cos[index] * plus[at + 1];
            fr += sin[index] * minus[at];
            fi += sin[index] * minus[at + 1];
            index += k;
            if (index >= r) index -= r;
          }
          twist(y, o + 2 * s * k, [er + fi, ei - fr], twiddles, 2 * ((r - 1) * p + k - 1));
          twist(y, o + 2 * s * (r - k), [er - fi, ei + fr], twiddles, 2 * ((r - 1) * p + r - k - 1));
        }
      }
  };
}

function twist(y: Float64Array, at: number, [re, im]: readonly [number, number], w: Float64Array, k: number): void {
  y[at] = re * w[k] - im * w[k + 1];
  y[at + 1] = re * w[k + 1] + im * w[k];
}
