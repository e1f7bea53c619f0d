export interface PassShape {
  readonly m: number;
  readonly s: number;
  readonly twiddles: Float64Array;
}

/** One pass of one radix over the whole array; see mixed-radix.ts for the index convention. */
export type Pass = (x: Float64Array, y: Float64Array, shape: PassShape) => void;

const radix2: Pass = (x, y, { m, s, twiddles }) => {
  for (let p = 0; p < m; p++) {
    const wr = twiddles[2 * p];
    const wi = twiddles[2 * p + 1];
    for (let q = 0, i = 2 * s * p, o = 4 * s * p; q < s; q++, i += 2, o += 2) {
      const j = i + 2 * s * m;
      const [ar, ai, br, bi] = [x[i], x[i + 1], x[j], x[j + 1]];
      y[o] = ar + br;
      y[o + 1] = ai + bi;
      const dr = ar - br;
      const di = ai - bi;
      y[o + 2 * s] = dr * wr - di * wi;
      y[o + 2 * s + 1] = dr * wi + di * wr;
    }
  }
};

const radix3: Pass = (x, y, { m, s, twiddles }) => {
  const half3 = Math.sqrt(3) / 2;
  const step = 2 * s * m;
  const next = 2 * s;
  for (let p = 0; p < m; p++) {
    const t = 4 * p;
    const [w1r, w1i, w2r, w2i] = [twiddles[t], twiddles[t + 1], twiddles[t + 2], twiddles[t + 3]];
    for (let q = 0, i = 2 * s * p, o = 6 * s * p; q < s; q++, i += 2, o += 2) {
      const ar = x[i];
      const ai = x[i + 1];
      const sr = x[i + step] + x[i + 2 * step];
      const si = x[i + step + 1] + x[i + 2 * step + 1];
      const dr = half3 * (x[i + step] - x[i + 2 * step]);
      const di = half3 * (x[i + step + 1] - x[i + 2 * step + 1]);
      const er = ar - sr / 2;
      const ei = ai - si / 2;
      y[o] = ar + sr;
      y[o + 1] = ai + si;
      store(y, o + next, er + di, ei - dr, w1r, w1i);
      store(y, o + 2 * next, er - di, ei + dr, w2r, w2i);
    }
  }
};

const radix4: Pass = (x, y, { m, s, twiddles }) => {
  const step = 2 * s * m;
  const next = 2 * s;
  for (let p = 0; p < m; p++) {
    const t = 6 * p;
    const w1r = twiddles[t];
    const w1i = twiddles[t + 1];
    const w2r = twiddles[t + 2];
    const w2i = twiddles[t + 3];
    const w3r = twiddles[t + 4];
    const w3i = twiddles[t + 5];
    for (let q = 0, i = 2 * s * p, o = 8 * s * p; q < s; q++, i += 2, o += 2) {
      const i1 = i + step;
      const i2 = i1 + step;
      const i3 = i2 + step;
      const apcR = x[i] + x[i2];
      const apcI = x[i + 1] + x[i2 + 1];
      const amcR = x[i] - x[i2];
      const amcI = x[i + 1] - x[i2 + 1];
      const bpdR = x[i1] + x[i3];
      const bpdI = x[i1 + 1] + x[i3 + 1];
      const bmdR = x[i1] - x[i3];
      const bmdI = x[i1 + 1] - x[i3 + 1];
      y[o] = apcR + bpdR;
      y[o + 1] = apcI + bpdI;
      store(y, o + next, amcR + bmdI, amcI - bmdR, w1r, w1i);
      store(y, o + 2 * next, apcR - bpdR, apcI - bpdI, w2r, w2i);
      store(y, o + 3 * next, amcR - bmdI, amcI + bmdR, w3r, w3i);
    }
  }
};

const radix5: Pass = (x, y, { m, s, twiddles }) => {
  const [c1, c2] = [Math.cos((2 * Math.PI) / 5), Math.cos((4 * Math.PI) / 5)];
  const [s1, s2] = [Math.sin((2 * Math.PI) / 5), Math.sin((4 * Math.PI) / 5)];
  const step = 2 * s * m;
  const next = 2 * s;
  for (let p = 0; p < m; p++) {
    const t = 8 * p;
    for (let q = 0, i = 2 * s * p, o = 10 * s * p; q < s; q++, i += 2, o += 2) {
      const ar = x[i];
      const ai = x[i + 1];
      const [i1, i2, i3, i4] = [i + step, i + 2 * step, i + 3 * step, i + 4 * step];
      const p1r = x[i1] + x[i4];
      const p1i = x[i1 + 1] + x[i4 + 1];
      const m1r = x[i1] - x[i4];
      const m1i = x[i1 + 1] - x[i4 + 1];
      const p2r = x[i2] + x[i3];
      const p2i = x[i2 + 1] + x[i3 + 1];
      const m2r = x[i2] - x[i3];
      const m2i = x[i2 + 1] - x[i3 + 1];
      y[o] = ar + p1r + p2r;
      y[o + 1] = ai + p1i + p2i;
      const e1r = ar + c1 * p1r + c2 * p2r;
      const e1i = ai + c1 * p1i + c2 * p2i;
      const e2r = ar + c2 * p1r + c1 * p2r;
      const e2i = ai + c2 * p1i + c1 * p2i;
      const f1r = s1 * m1r + s2 * m2r;
      const f1i = s1 * m1i + s2 * m2i;
      const f2r = s2 * m1r - s1 * m2r;
      const f2i = s2 * m1i - s1 * m2i;
      store(y, o + next, e1r + f1i, e1i - f1r, twiddles[t], twiddles[t + 1]);
      store(y, o + 2 * next, e2r + f2i, e2i - f2r, twiddles[t + 2], twiddles[t + 3]);
      store(y, o + 3 * next, e2r - f2i, e2i + f2r, twiddles[t + 4], twiddles[t + 5]);
      store(y, o + 4 * next, e1r - f1i, e1i + f1r, twiddles[t + 6], twiddles[t + 7]);
    }
  }
};

function store(y: Float64Array, at: number, re: number, im: number, wr: number, wi: number): void {
  y[at] = re * wr - im * wi;
  y[at + 1] = re * wi + im * wr;
}

export const butterflies: Readonly<Record<number, Pass>> = { 2: radix2, 3: radix3, 4: radix4, 5: radix5 };
