import { describe, expect, it } from "vitest";
import { largestDifference, nextStart, type Round } from "./periodic-closure.js";

/** Rounds of x -> A x + b for diagonal A seen in mixed coordinates, until closed within 1e-12. */
function roundsOf(rates: readonly number[], most = 60): { count: number; x: Float64Array; fixed: Float64Array } {
  const n = rates.length;
  // Householder reflection: an orthogonal mixture of all coordinates, its own inverse.
  const mix = (x: Float64Array) => {
    const share = (2 / n) * x.reduce((sum, value) => sum + value, 0);
    return x.map((value) => value - share);
  };
  const fixed = Float64Array.from(rates, (_, i) => Math.sin(i + 1));
  const advance = (x: Float64Array) =>
    mix(mix(x.map((value, i) => value - fixed[i])).map((value, i) => rates[i] * value)).map(
      (value, i) => value + fixed[i],
    );
  const rounds: Round[] = [];
  let x: Float64Array = new Float64Array(n);
  while (rounds.length < most) {
    const end = advance(x);
    rounds.push({ start: x, end });
    if (largestDifference(x, end) < 1e-12) break;
    x = nextStart(rounds);
  }
  return { count: rounds.length, x, fixed };
}

describe("nextStart", () => {
  it("takes the end of a first round", () => {
    const end = Float64Array.of(1, 2);
    expect(nextStart([{ start: Float64Array.of(0, 0), end }])).toEqual(end);
  });

  it("closes m slow modes in about m + 2 rounds, however slow", () => {
    const { count, x, fixed } = roundsOf([0.9999, 0.99, 0.9, 1e-9, 1e-12, 0]);
    expect(count).toBeLessThanOrEqual(7);
    // A mismatch below 1e-12 on a mode of 0.9999 pins it to 1e-8.
    expect(largestDifference(x, fixed)).toBeLessThan(1e-8);
  });

  it("closes modes that change sign or decay at once", () => {
    const { count, x, fixed } = roundsOf([-0.8, 0.3, -0.1, 0, 0]);
    expect(count).toBeLessThanOrEqual(7);
    expect(largestDifference(x, fixed)).toBeLessThan(1e-11);
  });

  it("stays where it is when the round was closed", () => {
    const x = Float64Array.of(0.25, -0.5);
    const closed = { start: x, end: x };
    expect(nextStart([closed, closed])).toEqual(x);
  });
});

describe("largestDifference", () => {
  it("is the largest, and NaN where anything is", () => {
    expect(largestDifference(Float64Array.of(1, 5), Float64Array.of(2, 3))).toBe(2);
    expect(largestDifference(Float64Array.of(Number.NaN, 5), Float64Array.of(2, 5))).toBeNaN();
  });
});
