import { FerruleError } from "../../errors.js";

const mask = (1n << 64n) - 1n;
const golden = 0x9e3779b97f4a7c15n;

/**
 * Start of the stream that belongs to (seed, job, chunk): three 64-bit words.
 * Each word absorbs the three numbers through SplitMix64's mixing, from a different constant:
 *   h ← mix(h + golden);  for each number v: h ← mix((h ⊕ v) + golden)
 * Two triples share all 192 bits only by accident (chance 2^-192 a pair), and `mix` is a bijection, so that for equal
 * prefixes a different last number always gives a different word.
 *
 * Source      Steele, Lea & Flood, OOPSLA 2014 (SplitMix64 mixing, Stafford variant 13); from memory. Use as a
 *             hash: derived.
 * Checked by  checks/random (published first outputs of SplitMix64), stream.test.ts (cross-correlation)
 */
export function streamKey(seed: number, job: number, chunk: number): readonly [bigint, bigint, bigint] {
  const numbers = [checked(seed, "seed"), checked(job, "job"), checked(chunk, "chunk")];
  // The constants are the first 64-bit blocks of the fractional digits of π: nothing up the sleeve.
  const word = (constant: bigint) =>
    numbers.reduce((h, v) => mix64(((h ^ v) + golden) & mask), mix64((constant + golden) & mask));
  return [word(0x243f6a8885a308d3n), word(0x13198a2e03707344n), word(0xa4093822299f31d0n)];
}

/** SplitMix64's output function. */
export function mix64(word: bigint): bigint {
  let z = word & mask;
  z = ((z ^ (z >> 30n)) * 0xbf58476d1ce4e5b9n) & mask;
  z = ((z ^ (z >> 27n)) * 0x94d049bb133111ebn) & mask;
  return z ^ (z >> 31n);
}

function checked(value: number, path: string): bigint {
  if (Number.isSafeInteger(value) && value >= 0) return BigInt(value);
  throw new FerruleError("InvalidValue", {
    path,
    found: String(value),
    accepted: `a whole number from 0 to ${Number.MAX_SAFE_INTEGER}, e.g. 1`,
  });
}
