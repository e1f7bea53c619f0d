import { describe, expect, it } from "vitest";
import { longErrors, shortErrors, truth } from "./compare.js";

// Rounding of a transform grows as its number of passes, about 1e-16·log2(n); Bluestein does two longer ones and
// two chirps. Aim: 1e-15 for mixed radix.
const tolerance = 3e-15;

describe("Fourier transform against numpy", () => {
  it("has every length", () => expect([truth.cases.length, truth.long.length]).toEqual([30, 7]));

  it.each(truth.cases)("length $n, there and back", (sample) => {
    const { forward, back } = shortErrors(sample);
    expect(forward).toBeLessThan(tolerance);
    expect(back).toBeLessThan(tolerance);
  });

  it.each(truth.long)("length $n, some bins", (sample) => {
    const { norm, bins } = longErrors(sample);
    expect(norm).toBeLessThan(1e-12);
    // The samples themselves differ in the last bit of sin and cos, and their arguments (up to 5e7) are exact in
    // both: 1e-15 of the mean bin, with room for the largest of 64.
    expect(bins).toBeLessThan(1e-14);
  });
});
