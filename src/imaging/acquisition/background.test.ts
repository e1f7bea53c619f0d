import { describe, expect, it } from "vitest";
import { smallGeometry } from "../../../checks/imaging/small-raster.js";
import { isKnownError } from "../../errors.js";
import { chiSquareQuantile, stream } from "../../numerics/index.js";
import { subtractEmpties } from "./background.js";
import { rasterFrames } from "./line-raster.js";
import { removeFundamental } from "./period-harmonics.js";

const { raster } = smallGeometry({ patchesPerEmpty: 7 });
const n = raster.samplesPerPeriod;
const order = rasterFrames(raster);
const shape = removeFundamental(stream(3).fillNormal(new Float64Array(n)), n);

/** Every frame holds the background's shape times `size` at its own time. */
function background(size: (time_s: number) => number): Float64Array {
  const out = new Float64Array(order.length * n);
  order.forEach(({ time_s }, index) => {
    for (let j = 0; j < n; j++) out[index * n + j] = size(time_s) * shape[j];
  });
  return out;
}
const largest = (values: Float64Array) => values.reduce((max, value) => Math.max(max, Math.abs(value)), 0);

describe("subtracting empties", () => {
  it("removes a constant and a linear drift exactly, in every gap", () => {
    for (const size of [() => 40, (t: number) => 40 - 300 * t]) {
      const { frames } = subtractEmpties(background(size), raster);
      expect(frames).toHaveLength(36 * n);
      // 40 V of background in double precision leaves a few 1e-14.
      expect(largest(frames)).toBeLessThan(2e-13);
    }
  });

  it("leaves the tracer as it was, in raster order", () => {
    const voltage = background((t) => 5 + t);
    order.forEach(({ patch }, index) => {
      if (patch >= 0) voltage[index * n + 3] += patch + 1;
    });
    const { frames } = subtractEmpties(voltage, raster);
    for (let patch = 0; patch < 36; patch++) {
      expect(frames[patch * n + 3]).toBeCloseTo(patch + 1, 12);
      expect(frames[patch * n + 4]).toBeCloseTo(0, 12);
    }
  });

  it("misses of a curved drift by what the parabola says: −c (t₁ − t₀)(t₂ − t₁), and so do the patches between", () => {
    const prepared = subtractEmpties(
      background((t) => 100 * t * t),
      raster,
    );
    const blockTimes = Array.from({ length: prepared.blocks }, (_, block) => {
      const times = order.filter(({ emptyBlock }) => emptyBlock === block).map(({ time_s }) => time_s);
      return times.reduce((sum, t) => sum + t, 0) / times.length;
    });
    // The parabola also bends inside a block: its mean square spread is common to all blocks and cancels.
    for (let b = 1; b + 1 < prepared.blocks; b++) {
      const expected = -100 * (blockTimes[b] - blockTimes[b - 1]) * (blockTimes[b + 1] - blockTimes[b]);
      for (let j = 0; j < n; j++) expect(prepared.leaveOneOut[(b - 1) * n + j]).toBeCloseTo(expected * shape[j], 12);
    }
    const { block, late } = prepared.emptyWeights;
    const spread = blockSpread();
    order.forEach(({ patch, time_s }) => {
      if (patch < 0) return;
      const [t0, t1] = [blockTimes[block[patch]], blockTimes[block[patch] + 1]];
      expect(late[patch]).toBeCloseTo((time_s - t0) / (t1 - t0), 12);
      const expected = -100 * ((time_s - t0) * (t1 - time_s) + spread);
      for (let j = 0; j < n; j++) expect(prepared.frames[patch * n + j]).toBeCloseTo(expected * shape[j], 12);
    });
  });

  it("has as many misses as interior blocks, and none for two blocks", () => {
    expect(
      subtractEmpties(
        background(() => 1),
        raster,
      ).leaveOneOut,
    ).toHaveLength(5 * n);
    const few = { ...raster, patchesPerEmpty: 100 };
    const voltage = new Float64Array(rasterFrames(few).length * n);
    const { blocks, leaveOneOut } = subtractEmpties(voltage, few);
    expect([blocks, leaveOneOut.length]).toEqual([2, 0]);
  });
});

/** Variance of the frame times inside a block, s². */
function blockSpread(): number {
  const times = order.filter(({ emptyBlock }) => emptyBlock === 0).map(({ time_s }) => time_s);
  const mean = times.reduce((sum, t) => sum + t, 0) / times.length;
  return times.reduce((sum, t) => sum + (t - mean) ** 2, 0) / times.length;
}

describe("the noise estimate", () => {
  it("is unbiased: χ² of all its degrees of freedom within two-sided 1e-3, with filter and slow drift", () => {
    let squares = 0;
    let freedom = 0;
    for (let seed = 0; seed < 20; seed++) {
      const voltage = background((t) => 3 - 20 * t);
      const noise = stream(100, 1, seed).fillNormal(new Float64Array(voltage.length));
      // 5e-3 V of drift over a block, relative to 2 V of noise: 6e-6 of its variance.
      for (let i = 0; i < voltage.length; i++) voltage[i] += 2 * noise[i];
      const prepared = subtractEmpties(removeFundamental(voltage, n), raster);
      squares += (prepared.noise_V / 2) ** 2 * prepared.noiseDegreesOfFreedom;
      freedom += prepared.noiseDegreesOfFreedom;
    }
    expect(freedom).toBe(20 * 7 * 3 * (n - 3));
    // Chi-square quantile in the normal limit (25,620 degrees of freedom).
    expect(Math.abs(squares / freedom - 1)).toBeLessThan(3.29 * Math.sqrt(2 / freedom));
  });

  it("claims no more degrees of freedom than its own scatter shows (400 scans, χ² two-sided 1e-3)", () => {
    const few = {
      ...smallGeometry({ linesA: 2, linesB: 1, patches: 1, samplesPerPeriod: 24 }).raster,
      patchesPerEmpty: 9,
    };
    const length = rasterFrames(few).length * 24;
    let [square, nu] = [0, 0];
    for (let seed = 0; seed < 400; seed++) {
      const noise = removeFundamental(stream(9, 1, seed).fillNormal(new Float64Array(length)), 24);
      const { noise_V, noiseDegreesOfFreedom } = subtractEmpties(noise, few);
      nu = noiseDegreesOfFreedom;
      square += (noise_V ** 2 - 1) ** 2;
    }
    // var(s²) = 2/ν for unit σ; Σ (s² − 1)² · ν/2 is χ² of 400 to the normality of s² (ν = 126).
    const statistic = (square * nu) / 2;
    expect(nu).toBe(2 * 3 * 21);
    expect(statistic).toBeGreaterThan(chiSquareQuantile(5e-4, 400));
    expect(statistic).toBeLessThan(chiSquareQuantile(1 - 5e-4, 400));
  });
});

describe("refusals", () => {
  const refused = (voltage: Float64Array) => {
    try {
      subtractEmpties(voltage, raster);
    } catch (error) {
      return error;
    }
    return undefined;
  };
  it("names the frame and the sample that is no number", () => {
    for (const bad of [Number.NaN, Number.POSITIVE_INFINITY]) {
      const voltage = background(() => 1);
      voltage[5 * n + 9] = bad;
      const error = refused(voltage);
      if (!isKnownError(error, "InvalidValue")) throw error ?? new Error("accepted");
      expect(error.place.path).toBe("voltage[5][9]");
    }
  });
  it("wants exactly the raster's frames", () => {
    expect(isKnownError(refused(new Float64Array((order.length - 1) * n)), "ShapeMismatch")).toBe(true);
    expect(isKnownError(refused(new Float64Array(order.length * n + 1)), "ShapeMismatch")).toBe(true);
  });
});
