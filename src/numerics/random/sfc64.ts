/**
 * The SFC64 generator (small fast counting), 64 random bits a step, in 32-bit halves.
 *   out = a + b + counter;  counter += 1;  a = b ⊕ (b >> 11);  b = c + (c << 3);  c = rotl(c, 24) + out
 *
 * State: Int32Array [aLow, aHigh, bLow, bHigh, cLow, cHigh, counterLow, counterHigh, outLow, outHigh].
 * `advance` leaves its result in the last two entries: no allocation, and no numbers beyond 31 bits held in closures.
 *
 * Valid for   period at least 2^64 from every state (the counter), about 2^255 on average.
 * Source      C. Doty-Humphrey, PractRand 0.93 (sfc.cpp); from memory
 * Checked by  checks/random (bit for bit against an independent implementation, numpy)
 */
export function advance(s: Int32Array): void {
  const aLow = s[0];
  const bLow = s[2];
  const bHigh = s[3];
  const cLow = s[4];
  const cHigh = s[5];
  const nLow = s[6];
  // 64-bit sums in halves; the carry of x + y (mod 2^32) is 1 exactly when the sum is below x, both unsigned.
  const abLow = (aLow + bLow) | 0;
  const abHigh = (s[1] + bHigh + carry(abLow, aLow)) | 0;
  const outLow = (abLow + nLow) | 0;
  const outHigh = (abHigh + s[7] + carry(outLow, abLow)) | 0;
  const nextLow = (nLow + 1) | 0;
  s[6] = nextLow;
  if (nextLow === 0) s[7] = (s[7] + 1) | 0;
  s[0] = bLow ^ ((bLow >>> 11) | (bHigh << 21));
  s[1] = bHigh ^ (bHigh >>> 11);
  const shiftedLow = cLow << 3;
  const newBLow = (cLow + shiftedLow) | 0;
  s[2] = newBLow;
  s[3] = (cHigh + ((cHigh << 3) | (cLow >>> 29)) + carry(newBLow, cLow)) | 0;
  const rotatedLow = (cLow << 24) | (cHigh >>> 8);
  const newCLow = (rotatedLow + outLow) | 0;
  s[4] = newCLow;
  s[5] = (((cHigh << 24) | (cLow >>> 8)) + outHigh + carry(newCLow, rotatedLow)) | 0;
  s[8] = outLow;
  s[9] = outHigh;
}

function carry(sum: number, term: number): number {
  return sum >>> 0 < term >>> 0 ? 1 : 0;
}

/** Words of the state: a, b, c and the counter's start. */
export function sfc64State([a, b, c]: readonly [bigint, bigint, bigint], counter: bigint): Int32Array {
  const state = new Int32Array(10);
  [a, b, c, counter].forEach((word, i) => {
    state[2 * i] = Number(BigInt.asIntN(32, word));
    state[2 * i + 1] = Number(BigInt.asIntN(32, word >> 32n));
  });
  return state;
}

const two21 = 2 ** -21;
const two32 = 2 ** -32;

/** Next number in [0, 1), a multiple of 2^-53 (the convention of the published samplers we follow). */
export function nextUnit(s: Int32Array): number {
  advance(s);
  // High 32 bits, then the top 21 of the low word.
  return ((s[9] >>> 0) + (s[8] >>> 11) * two21) * two32;
}

/** Next number in (0, 1): the middle of one of 2^52 cells, never 0 or 1, so that its logarithm is finite. */
export function nextOpenUnit(s: Int32Array): number {
  advance(s);
  return ((s[9] >>> 0) + ((s[8] >>> 12) + 0.5) * 2 ** -20) * two32;
}
