import { describe, expect, it } from "vitest";
import { detectionOverTime } from "./detection-over-time.js";
import type { HarmonicChannel } from "./mass-detection.js";

const channels: HarmonicChannel[] = [
  { order: 3, signal_V_per_kg: 1000, noiseDensity_V_per_sqrtHz: 1e-9, background_V: 1e-3 },
];
const times = [1, 4, 16, 64, 256];
const over = (deviation: (time_s: number) => number) =>
  detectionOverTime(
    channels,
    times.map((time_s) => ({ time_s, relativeDeviation: deviation(time_s) })),
  );

describe("detection limit over averaging time", () => {
  it("a stable background: noise alone, half the limit for four times the time, best at the end", () => {
    const { times: rows, isBestAtEnd } = over(() => 0);
    for (let i = 1; i < rows.length; i++) expect(rows[i - 1].limit_kg / rows[i].limit_kg).toBeCloseTo(2, 10);
    // sqrt(2) for the empty of the same length.
    expect(rows[0].limit_kg / (3.289707 * Math.SQRT2 * 1e-12)).toBeCloseTo(1, 6);
    expect(isBestAtEnd).toBe(true);
  });

  it("a flat deviation is a floor: sqrt(2) y b/u times 3.29", () => {
    const { times: rows, best } = over(() => 1e-6);
    const floor = 3.289707 * Math.SQRT2 * 1e-6 * (1e-3 / 1000);
    expect(rows[4].backgroundLimit_kg / floor).toBeCloseTo(1, 6);
    expect(best.limit_kg).toBeGreaterThan(floor);
    expect(rows[4].limit_kg / rows[3].limit_kg).toBeGreaterThan(0.8);
  });

  it("a rising deviation has a best time: noise 1/t against drift t^2", () => {
    // Squares: (1e-9)^2/t against (y1 t 1e-3)^2: equal slopes where 1/t = 2 (1e6 y1 t)^2; y1 = 1e-8 gives t = 17.1.
    const { best, isBestAtEnd, times: rows } = over((t) => 1e-8 * t);
    expect(best.time_s).toBe(16);
    expect(isBestAtEnd).toBe(false);
    expect(rows[4].limit_kg).toBeGreaterThan(best.limit_kg);
  });

  it("refuses an empty list", () => {
    expect(() => detectionOverTime(channels, [])).toThrow(/averaging time/);
  });
});
