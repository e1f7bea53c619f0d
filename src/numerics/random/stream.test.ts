import { describe, expect, it } from "vitest";
import { isKnownError } from "../../errors.js";
import { chiSquareCdf } from "../special/chi-square.js";
import { normalCdf } from "../special/normal.js";
import { stream } from "./stream.js";

const count = 1_000_000;

/** √n·D of Kolmogorov and Smirnov; exceeds 1.95 with probability 1e-3. Seeds are fixed, so this cannot flicker. */
function kolmogorov(sample: Float64Array, cdf: (x: number) => number): number {
  const sorted = Float64Array.from(sample).sort();
  const n = sorted.length;
  const gaps = sorted.map((x, i) => Math.max((i + 1) / n - cdf(x), cdf(x) - i / n));
  return Math.sqrt(n) * gaps.reduce((worst, gap) => Math.max(worst, gap), 0);
}

const mean = (values: Float64Array) => values.reduce((sum, value) => sum + value, 0) / values.length;

describe("a stream", () => {
  it("is uniform inside (0, 1)", () => {
    const u = stream(11).fillUniform(new Float64Array(count));
    expect(u.every((value) => value > 0 && value < 1)).toBe(true);
    expect(kolmogorov(u.subarray(0, 200_000), (x) => x)).toBeLessThan(1.95);
    // Standard deviation of the mean: 1/√(12 n); 4 of them.
    expect(Math.abs(mean(u) - 0.5)).toBeLessThan(4 / Math.sqrt(12 * count));
  });

  it("is normal: moments, shape and tail", () => {
    const z = stream(12).fillNormal(new Float64Array(count));
    const moment = (k: number) => mean(z.map((value) => value ** k));
    // Variances of the sample moments: 1, 2, 15, 96 over n; 4 standard deviations.
    for (const [k, [expected, variance]] of [
      [0, 1],
      [1, 2],
      [0, 15],
      [3, 96],
    ].entries())
      expect(Math.abs(moment(k + 1) - expected)).toBeLessThan(4 * Math.sqrt(variance / count));
    expect(kolmogorov(z.subarray(0, 200_000), normalCdf)).toBeLessThan(1.95);
    for (const edge of [3, 3.6541528853610088, 4]) {
      const expected = 2 * count * normalCdf(-edge);
      expect(Math.abs(z.filter((value) => Math.abs(value) > edge).length - expected)).toBeLessThan(
        4 * Math.sqrt(expected),
      );
    }
  });

  it.each([0.4, 9.9, 10, 137, 2.5e5, 1e12])("is Poisson with mean %f", (lambda) => {
    const source = stream(13, 0, Math.round(lambda));
    const n = 100_000;
    const k = Float64Array.from({ length: n }, () => source.poisson(lambda));
    expect(k.every((value) => Number.isInteger(value) && value >= 0)).toBe(true);
    // Deviations from the known mean, so that 1e12 does not swallow them.
    const d = k.map((value) => value - lambda);
    expect(Math.abs(mean(d))).toBeLessThan(4 * Math.sqrt(lambda / n));
    expect(Math.abs(mean(d.map((v) => v * v)) / lambda - 1)).toBeLessThan(4 * Math.sqrt((2 + 1 / lambda) / n));
    // Third central moment is λ; its variance about 15·λ³ + ...
    expect(Math.abs(mean(d.map((v) => v ** 3)) - lambda)).toBeLessThan(
      4 * Math.sqrt((15 * lambda ** 3 + 26 * lambda ** 2 + lambda) / n),
    );
  });

  it("draws whole numbers without bias", () => {
    const source = stream(14);
    const bins = new Float64Array(7);
    for (let i = 0; i < 70_000; i++) bins[source.integerBelow(7)]++;
    const chi2 = bins.reduce((sum, bin) => sum + (bin - 10_000) ** 2 / 10_000, 0);
    expect(chiSquareCdf(chi2, 6).upper).toBeGreaterThan(1e-3);
    // A count above 2^52, where a plain remainder of 53 bits would be badly skewed: 2^53·2/3.
    const large = 6_004_799_503_160_661;
    const halves = Array.from({ length: 10_000 }, () => source.integerBelow(large)).filter((v) => v < large / 2).length;
    expect(Math.abs(halves - 5000)).toBeLessThan(200);
  });

  it("gives the same numbers for the same triple, and one by one as in bulk", () => {
    const bulk = stream(1, 2, 3).fillNormal(new Float64Array(1000));
    const single = stream(1, 2, 3);
    expect(Array.from(bulk)).toEqual(Array.from({ length: 1000 }, () => single.normal()));
  });
});

describe("streams of different triples", () => {
  it("are uncorrelated, neighbours and swapped numbers included", () => {
    const triples = [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
      [1, 1, 0],
      [2, 1, 0],
      [1, 2, 0],
      [1, 0, 2],
      [2 ** 32, 0, 0],
      [0, 2 ** 32, 0],
      [2 ** 53 - 1, 0, 0],
    ];
    const n = 100_000;
    const samples = triples.map(([seed, job, chunk]) => stream(seed, job, chunk).fillNormal(new Float64Array(n)));
    for (const [i, a] of samples.entries())
      for (const b of samples.slice(i + 1))
        for (const lag of [0, 1, 7]) {
          let sum = 0;
          for (let k = lag; k < n; k++) sum += a[k] * b[k - lag];
          // 135 correlations, each of standard deviation 1/√n: 4.5 of them.
          expect(Math.abs(sum) / n).toBeLessThan(4.5 / Math.sqrt(n));
        }
  });

  it("make a fair sample together: the first number of each of many chunks", () => {
    const first = Float64Array.from({ length: 20_000 }, (_, chunk) => stream(5, 0, chunk).uniform());
    expect(kolmogorov(first, (x) => x)).toBeLessThan(1.95);
    const pairs = first.map((value, i) => (value - 0.5) * ((first[i + 1] ?? 0.5) - 0.5) * 12);
    expect(Math.abs(mean(pairs))).toBeLessThan(4 / Math.sqrt(first.length));
  });
});

describe("refusals", () => {
  it.each<[string, () => unknown]>([
    ["a fractional seed", () => stream(0.5)],
    ["a negative job", () => stream(1, -1)],
    ["a chunk beyond 2^53", () => stream(1, 0, 2 ** 53)],
    ["a negative mean", () => stream(1).poisson(-1)],
    ["a NaN mean", () => stream(1).poisson(Number.NaN)],
    ["a count of 0", () => stream(1).integerBelow(0)],
  ])("%s", (_, act) => {
    try {
      act();
      expect.unreachable();
    } catch (error) {
      expect(isKnownError(error, "InvalidValue")).toBe(true);
    }
  });
  it("a mean of 0 gives 0", () => {
    expect(stream(1).poisson(0)).toBe(0);
  });
});
