/**
 * Positions 0..n−1 that are symmetric about their centre, split into even and odd combinations.
 * The orthonormal combination of representative i is (e_i ± e_{n−1−i})/√2, or e_i itself for the middle (even only).
 */
export interface MirrorHalf {
  readonly parity: 1 | -1;
  readonly count: number;
  readonly representatives: readonly number[];
}

export function mirrorHalf(count: number, parity: 1 | -1): MirrorHalf {
  const representatives = Array.from(
    { length: parity === 1 ? Math.ceil(count / 2) : Math.floor(count / 2) },
    (_, i) => i,
  );
  return { parity, count, representatives };
}

export const mirrored = ({ count }: MirrorHalf, i: number): number => count - 1 - i;

/** 1 for a pair, 1/√2 for the middle, which would otherwise be counted twice. */
export const mirrorNorm = (half: MirrorHalf, i: number): number => (mirrored(half, i) === i ? Math.SQRT1_2 : 1);

/** Coefficients of x on the representatives' combinations, along one axis of [outer, count, inner]. */
export function toHalf(half: MirrorHalf, outer: number, inner: number, x: Float64Array): Float64Array {
  const { count, representatives, parity } = half;
  const out = new Float64Array(outer * representatives.length * inner);
  for (let o = 0; o < outer; o++)
    representatives.forEach((i, index) => {
      const weight = mirrorNorm(half, i) * Math.SQRT1_2;
      const [from, other] = [(o * count + i) * inner, (o * count + mirrored(half, i)) * inner];
      const to = (o * representatives.length + index) * inner;
      for (let k = 0; k < inner; k++) out[to + k] = weight * (x[from + k] + parity * x[other + k]);
    });
  return out;
}

/** Adjoint of `toHalf`: adds the combinations back onto all positions. */
export function fromHalf(half: MirrorHalf, outer: number, inner: number, x: Float64Array): Float64Array {
  const { count, representatives, parity } = half;
  const out = new Float64Array(outer * count * inner);
  for (let o = 0; o < outer; o++)
    representatives.forEach((i, index) => {
      const weight = mirrorNorm(half, i) * Math.SQRT1_2;
      const [to, other] = [(o * count + i) * inner, (o * count + mirrored(half, i)) * inner];
      const from = (o * representatives.length + index) * inner;
      for (let k = 0; k < inner; k++) {
        out[to + k] += weight * x[from + k];
        out[other + k] += weight * parity * x[from + k];
      }
    });
  return out;
}
