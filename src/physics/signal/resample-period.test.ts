import { describe, expect, it } from "vitest";
import { resamplePeriod } from "./resample-period.js";

const wave = (n: number) =>
  Float64Array.from({ length: n }, (_, i) => {
    const phase = (2 * Math.PI * i) / n;
    return 0.3 + Math.cos(phase - 0.4) - 0.2 * Math.sin(5 * phase);
  });

describe("resamplePeriod", () => {
  it.each([
    [16, 64],
    [15, 102],
    [64, 16],
    [20, 20],
  ])("draws %d samples of a band-limited wave to %d exactly", (from, to) => {
    const drawn = resamplePeriod(wave(from), to);
    const exact = wave(to);
    expect(drawn.length).toBe(to);
    for (const [i, value] of drawn.entries()) expect(value).toBeCloseTo(exact[i], 13);
  });
});
