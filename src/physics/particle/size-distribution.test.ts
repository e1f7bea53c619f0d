import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { diameterMoment, type LogNormalSizes, numberWeighted, sizeNodes, volumeWeighted } from "./size-distribution.js";

const sizes = (logSd: number, weighting: "number" | "volume" = "number"): LogNormalSizes => ({
  kind: "lognormal",
  weighting,
  medianDiameter_m: 20e-9,
  logSd,
});

describe("weighting", () => {
  it("moves the median by exp(3 s^2) and leaves the log-sd", () => {
    const volume = volumeWeighted(sizes(0.3));
    expect(volume).toMatchObject({ weighting: "volume", logSd: 0.3 });
    expect(volume.medianDiameter_m / 20e-9).toBeCloseTo(Math.exp(0.27), 12);
  });

  it("comes back to where it started, and changes nothing when it is there", () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1, noNaN: true }), (logSd) => {
        const back = numberWeighted(volumeWeighted(sizes(logSd))).medianDiameter_m;
        expect(Math.abs(back / 20e-9 - 1)).toBeLessThan(1e-14);
      }),
    );
    expect(numberWeighted(sizes(0.4))).toEqual(sizes(0.4));
  });

  it("is honoured by moments and nodes: a volume median is not read as a number median", () => {
    const volume = sizes(0.3, "volume");
    expect(diameterMoment(volume, 1)).toBeCloseTo(diameterMoment(numberWeighted(volume), 1), 20);
    // Under the d^3-weighted distribution the volume median is the centre: half of the weight lies on either side.
    const { diameter_m, weight } = sizeNodes(volume, { order: 3 });
    const centre = diameter_m.findIndex((d) => d >= 20e-9 * (1 - 1e-12));
    const below = weight.slice(0, centre).reduce((a, b) => a + b, 0);
    expect(below + weight[centre] / 2).toBeCloseTo(0.5, 12);
  });
});

describe("nodes", () => {
  it("give the weighted means of powers of d: closed form exp(((n + m)^2 - n^2) s^2 / 2)", () => {
    for (const logSd of [0.02, 0.1, 0.3, 0.8]) {
      for (const [order, power] of [
        [0, 3],
        [3, 3],
        [6, -3],
      ] as const) {
        const { diameter_m, weight } = sizeNodes(sizes(logSd), { order });
        const mean = diameter_m.reduce((sum, d, j) => sum + weight[j] * (d / 20e-9) ** power, 0);
        const exact = Math.exp((((order + power) ** 2 - order ** 2) * logSd ** 2) / 2);
        expect(Math.abs(mean / exact - 1)).toBeLessThan(1e-11);
      }
    }
  });

  it("is one node for a single size or a width of zero", () => {
    expect(sizeNodes({ kind: "single", diameter_m: 25e-9 }).diameter_m).toEqual(Float64Array.of(25e-9));
    expect(sizeNodes(sizes(0)).weight).toEqual(Float64Array.of(1));
  });

  it("stays within 200 nodes for the widest tracer measured", () => {
    expect(sizeNodes(sizes(0.8), { order: 3 }).weight.length).toBeLessThan(200);
  });
});

describe("refusals", () => {
  it.each([
    [{ ...sizes(0.1), medianDiameter_m: 0 }, /sizes.medianDiameter_m: found 0; accepted: a finite number above 0/],
    [{ ...sizes(0.1), medianDiameter_m: Number.NaN }, /found NaN/],
    [sizes(-0.1), /sizes.logSd: found -0.1; accepted: a number from 0 to 2/],
    [sizes(Number.NaN), /sizes.logSd: found NaN/],
    [{ kind: "single", diameter_m: Number.POSITIVE_INFINITY } as const, /sizes.diameter_m: found Infinity/],
  ])("%j", (bad, message) => {
    expect(() => sizeNodes(bad)).toThrow(message);
  });
});
