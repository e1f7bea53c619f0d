import { describe, expect, it } from "vitest";
import { quasiStaticHarmonic } from "../relaxation/quasi-static-harmonics.js";
import {
  driveBandwidth_Hz,
  harmonicsAboveNoise,
  omegaOfShare,
  passBandwidth_Hz,
  responseShare,
} from "./signal-bandwidth.js";

describe("bandwidth of the response", () => {
  it("printed values: half at 0.39993, 10 % at 1.15067, 1 % at 2.06093 (facts M20); 2 x share at W8", () => {
    expect([0.5, 0.1, 0.01].map((share) => omegaOfShare(share).toFixed(5))).toEqual(["0.39993", "1.15067", "2.06093"]);
    expect([0.5, 1].map((omega) => (2 * responseShare(omega)).toFixed(7))).toEqual(["0.8244617", "0.2837845"]);
    expect((2 * responseShare(2)).toFixed(8)).toBe("0.02351088");
    expect(responseShare(0)).toBe(1);
  });

  it("inverts itself over 300 decades", () => {
    for (const share of [0.999999, 0.5, 1e-6, 1e-100, 1e-300]) {
      expect(Math.log(responseShare(omegaOfShare(share))) / Math.log(share)).toBeCloseTo(1, 8);
    }
  });

  it("the harmonics of a sinusoidal drive follow it: |n c_n| = (4/pi) share(n/xi0), 1e-4 at xi0 = 200", () => {
    for (const n of [1, 5, 21, 81, 231]) {
      const exact = n * Math.abs(quasiStaticHarmonic(200, n)) * (Math.PI / 4);
      expect(exact / responseShare(n / 200)).toBeCloseTo(1, 3);
    }
    const exact = 9 * Math.abs(quasiStaticHarmonic(10, 9)) * (Math.PI / 4);
    expect(exact / responseShare(0.9)).toBeCloseTo(1.01, 2);
  });

  it("a drive is a pass at its largest speed: d(xi)/dt = 2 pi f0 xi0", () => {
    const drive = driveBandwidth_Hz(17.6, 25e3, 0.1);
    expect(passBandwidth_Hz(2 * Math.PI * 25e3 * 17.6, 0.1)).toBeCloseTo(drive, 6);
    expect(drive / 25e3).toBeCloseTo(20.25, 2);
  });

  it("refuses shares that are none", () => {
    for (const share of [0, 1, 1.5, Number.NaN]) expect(() => omegaOfShare(share)).toThrow(/share/);
  });
});

describe("harmonics above the noise", () => {
  const lines = [3, 5, 7, 9].map((order, i) => ({
    order,
    amplitude_V: 10 ** -(8 + i),
    noiseDensity_V_per_sqrtHz: 1e-9,
  }));

  it("counts those whose amplitude exceeds density over root time", () => {
    const found = harmonicsAboveNoise(lines, { time_s: 4 });
    expect(Array.from(found.signalToNoise, (x) => Math.round(x * 1e6) / 1e6)).toEqual([20, 2, 0.2, 0.02]);
    expect([found.count, found.highestOrder]).toEqual([2, 5]);
    expect(harmonicsAboveNoise(lines, { time_s: 4, ratio: 3 }).highestOrder).toBe(3);
    expect(harmonicsAboveNoise(lines, { time_s: 1e-6 })).toMatchObject({ count: 0, highestOrder: 0 });
  });
});
