import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { LogNormalSizes } from "./core-sizes.js";
import { diameterMoment, numberWeighted, sizeNodes, volumeWeighted } from "./size-distribution.js";

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

describe("mixtures and tables", () => {
  const populations = [
    { share: 3, medianDiameter_m: 10e-9, logSd: 0.2 },
    { share: 1, medianDiameter_m: 25e-9, logSd: 0.1 },
  ];

  it("share out particles by number: moments add", () => {
    const mixture = { kind: "mixture", weighting: "number", populations } as const;
    const parts = populations.map((each) => diameterMoment({ ...each, kind: "lognormal", weighting: "number" }, 3));
    expect(diameterMoment(mixture, 3) / (0.75 * parts[0] + 0.25 * parts[1])).toBeCloseTo(1, 12);
    const { diameter_m, weight } = sizeNodes(mixture, { order: 3 });
    expect(weight.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 12);
    const third = diameter_m.reduce((sum, d, j) => sum + weight[j] * (d / 10e-9) ** 3, 0);
    expect((third * 1e-24) / (diameterMoment(mixture, 6) / diameterMoment(mixture, 3))).toBeCloseTo(1, 10);
  });

  it("share out core volume: the d^3-weighted share of each population is the stated one", () => {
    const mixture = { kind: "mixture", weighting: "volume", populations } as const;
    const { diameter_m, weight } = sizeNodes(mixture, { order: 3 });
    const small = weight.reduce((sum, w, j) => sum + (diameter_m[j] < 17e-9 ? w : 0), 0);
    // The populations overlap at 17 nm by 2e-3: 2.65 log-sd above the first, 3.9 below the second.
    expect(small).toBeGreaterThan(0.7445);
    expect(small).toBeLessThan(0.7505);
  });

  it("a table of volume shares keeps them under the d^3 weighting, and leaves zeros out", () => {
    const table = { kind: "table", weighting: "volume", diameter_m: [10e-9, 20e-9, 30e-9], share: [1, 0, 3] } as const;
    const { diameter_m, weight } = sizeNodes(table, { order: 3 });
    expect([...diameter_m]).toEqual([10e-9, 30e-9]);
    expect(weight[0]).toBeCloseTo(0.25, 14);
    expect(weight[1]).toBeCloseTo(0.75, 14);
  });

  it("a mixture of one population is that log-normal", () => {
    const one = { kind: "mixture", weighting: "volume", populations: [populations[0]] } as const;
    const same = { ...populations[0], kind: "lognormal", weighting: "volume" } as const;
    expect(sizeNodes(one, { order: 3 })).toEqual(sizeNodes(same, { order: 3 }));
  });

  it("refuses what describes no particles", () => {
    const table = (share: number[]) =>
      ({ kind: "table", weighting: "number", diameter_m: [1e-8, 2e-8], share }) as const;
    expect(() => sizeNodes(table([0, 0]))).toThrow(/no population with a share above 0/);
    expect(() => sizeNodes(table([1]))).toThrow(/2 diameters and 1 shares/);
    expect(() => sizeNodes(table([1, -1]))).toThrow(/table\[1\]\.share/);
  });
});
