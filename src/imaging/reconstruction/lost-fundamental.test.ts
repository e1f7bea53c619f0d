import { describe, expect, it } from "vitest";
import { isKnownError } from "../../errors.js";
import { chiSquareQuantile, solveLeastSquares, stream } from "../../numerics/index.js";
import { type PatchImage, stitchOffsets } from "./lost-fundamental.js";

const bins = 60;
/** Patches of 12 bins every 8: they overlap by 4, and no bin lies in three of them. */
const starts = [0, 8, 16, 24, 32, 40, 48];

interface Made {
  readonly offset?: (patch: number) => number;
  readonly weight?: (bin: number) => number;
}
function patchesOf(line: (bin: number) => number, { offset = () => 0, weight = () => 1 }: Made = {}) {
  return starts.map((start, p): PatchImage => {
    const seen = (i: number) => i >= start && i < start + 12;
    return {
      value: Float64Array.from({ length: bins }, (_, i) => (seen(i) ? line(i) - offset(p) : 0)),
      weight: Float64Array.from({ length: bins }, (_, i) => (seen(i) ? weight(i - start) : 0)),
    };
  });
}
const bump = (i: number) => Math.exp(-(((i - 27) / 6) ** 2)) * (i >= 2 && i < 58 ? 1 : 0);
const lost = (p: number) => 0.3 * Math.sin(2 * p) + 0.1 * p;
/** Like the speed: little at the turning points. */
const edgy = (k: number) => Math.sin((Math.PI * (k + 0.5)) / 12) ** 2;

describe("joining patches by their overlap", () => {
  it.each(["both", "first"] as const)("finds the constants that were taken, tracer-free ends: %s", (ends) => {
    for (const weight of [() => 1, edgy]) {
      const offsets = stitchOffsets(patchesOf(bump, { offset: lost, weight }), { ends });
      offsets.forEach((value, p) => {
        expect(value).toBeCloseTo(lost(p), 12);
      });
    }
  });

  it("from one end is the chain of facts D4: d_{p+1} = d_p + mean over the overlap of f_p − f_{p+1}", () => {
    const noise = stream(3).fillNormal(new Float64Array(starts.length * bins));
    const patches = patchesOf(bump, { offset: lost }).map(({ value, weight }, p) => ({
      value: value.map((v, i) => (weight[i] > 0 ? v + 0.1 * noise[p * bins + i] : 0)),
      weight,
    }));
    const offsets = stitchOffsets(patches, { ends: "first" });
    expect(offsets[0]).toBeCloseTo(-(patches[0].value[0] + patches[0].value[1]) / 2, 12);
    for (let p = 0; p + 1 < starts.length; p++) {
      let mean = 0;
      for (let i = starts[p + 1]; i < starts[p] + 12; i++) mean += (patches[p].value[i] - patches[p + 1].value[i]) / 4;
      expect(offsets[p + 1] - offsets[p]).toBeCloseTo(mean, 12);
    }
  });

  it("from both ends is the general least squares over all bins (a dense solver's answer)", async () => {
    const noise = stream(4).fillNormal(new Float64Array(starts.length * bins));
    const patches = patchesOf(bump, { offset: lost, weight: edgy }).map(({ value, weight }, p) => ({
      value: value.map((v, i) => (weight[i] > 0 ? v + 0.1 * noise[p * bins + i] : 0)),
      weight,
    }));
    const found = stitchOffsets(patches, { edgeBins: 3 });
    const expected = await denseOffsets(patches, 3);
    found.forEach((value, p) => {
      expect(value).toBeCloseTo(expected[p], 11);
    });
  });

  it("of noise walks at random from one end: variance proportional to the joins (exact χ², 1e-3 over all)", () => {
    const replicas = 400;
    const squares = new Float64Array(starts.length);
    for (let replica = 0; replica < replicas; replica++) {
      const noise = stream(5, 0, replica).fillNormal(new Float64Array(starts.length * bins));
      const patches = patchesOf(() => 0).map(({ weight }, p) => ({
        value: weight.map((w, i) => (w > 0 ? noise[p * bins + i] : 0)),
        weight,
      }));
      stitchOffsets(patches, { ends: "first" }).forEach((value, p) => {
        squares[p] += value * value;
      });
    }
    const tail = 1e-3 / (2 * starts.length);
    squares.forEach((sum, p) => {
      // Two edge bins: 1/2. Every join compares 4 bins of unit variance on both sides: 2/4.
      const variance = 1 / 2 + p * (2 / 4);
      expect(sum / variance).toBeGreaterThan(chiSquareQuantile(tail, replicas));
      expect(sum / variance).toBeLessThan(chiSquareQuantile(1 - tail, replicas));
    });
  });

  it("of a single patch is minus its edge", () => {
    const [patch] = patchesOf(() => 5);
    expect(stitchOffsets([patch])[0]).toBeCloseTo(-5, 12);
  });

  it("refuses patches that do not overlap, and names the place", () => {
    const patches = patchesOf(bump);
    let caught: unknown;
    try {
      stitchOffsets([patches[0], patches[3]]);
    } catch (error) {
      caught = error;
    }
    if (!isKnownError(caught, "InvalidValue")) throw caught ?? new Error("accepted");
    expect(caught.place.path).toBe("raster.patches.step");
  });

  it("refuses a patch that saw nothing", () => {
    const empty: PatchImage = { value: new Float64Array(bins), weight: new Float64Array(bins) };
    let caught: unknown;
    try {
      stitchOffsets([empty]);
    } catch (error) {
      caught = error;
    }
    expect(isKnownError(caught, "NotIdentifiable")).toBe(true);
  });
});

/** The same minimum written out row by row: one equation a join and one an end, each times the root of its weight. */
function denseOffsets(patches: readonly PatchImage[], edgeBins: number): Promise<Float64Array> {
  const n = patches.length;
  const rows: number[][] = [];
  const right: number[] = [];
  const add = (weight: number, coefficients: [number, number][], value: number) => {
    const row = new Array<number>(n).fill(0);
    for (const [p, c] of coefficients) row[p] = c * Math.sqrt(weight);
    rows.push(row);
    right.push(value * Math.sqrt(weight));
  };
  for (let p = 0; p + 1 < n; p++)
    for (let i = 0; i < bins; i++) {
      const [a, b] = [patches[p].weight[i], patches[p + 1].weight[i]];
      const difference = patches[p + 1].value[i] - patches[p].value[i];
      if (a > 0 && b > 0)
        add(
          (a * b) / (a + b),
          [
            [p, 1],
            [p + 1, -1],
          ],
          difference,
        );
    }
  for (let k = 0; k < edgeBins; k++) {
    add(patches[0].weight[k], [[0, 1]], -patches[0].value[k]);
    const last = starts[n - 1] + 11 - k;
    add(patches[n - 1].weight[last], [[n - 1, 1]], -patches[n - 1].value[last]);
  }
  return solveLeastSquares(Float64Array.from(rows.flat()), [rows.length, n], Float64Array.from(right));
}
