import { describe, expect, it } from "vitest";
import { isKnownError } from "../../errors.js";
import {
  checkRaster,
  drivePhase,
  type LineRaster,
  positionAt,
  rasterFrames,
  scanTime_s,
  slowAxes,
} from "./line-raster.js";

const raster: LineRaster = {
  driveAxis: "z",
  driveAmplitude_T: 0.02,
  frequency_Hz: 25e3,
  samplesPerPeriod: 16,
  periodsPerFrame: 50, // 2 ms
  settle_s: 1e-3,
  lines: { a: { from_m: -2e-3, step_m: 1e-3, count: 3 }, b: { from_m: 0, step_m: 1e-3, count: 2 } },
  patches: { from_m: -1e-3, step_m: 2e-3, count: 2 },
  patchesPerEmpty: 5,
  framesPerEmpty: 3,
};

describe("order and clock of a raster", () => {
  const frames = rasterFrames(raster);

  it("visits every patch once, in order, with empties at both ends and after every fifth", () => {
    const words = frames.map(({ patch, emptyBlock }) => (patch < 0 ? `e${emptyBlock}` : String(patch)));
    expect(words.join(" ")).toBe("e0 e0 e0 0 1 2 3 4 e1 e1 e1 5 6 7 8 9 e2 e2 e2 10 11 e3 e3 e3");
    for (const { patch, emptyBlock } of frames) expect(patch < 0).toBe(emptyBlock >= 0);
  });

  it("does not end with two blocks of empties when the patches divide evenly", () => {
    const blocks = rasterFrames({ ...raster, patchesPerEmpty: 4 }).map(({ emptyBlock }) => emptyBlock);
    expect(Math.max(...blocks)).toBe(3);
    expect(blocks.slice(-4)).toEqual([-1, 3, 3, 3]);
  });

  it("takes wall-clock time: each patch and each block of empties settles once", () => {
    // 12 patches and 4 blocks of 3: 24 frames of 2 ms, 16 moves of 1 ms.
    expect(scanTime_s(raster)).toBeCloseTo(24 * 2e-3 + 16 * 1e-3, 12);
    expect(frames[0].time_s).toBeCloseTo(1e-3 + 1e-3, 12); // settle, then half a frame
    expect(frames[1].time_s - frames[0].time_s).toBeCloseTo(2e-3, 12); // no move between empties
    expect(frames[4].time_s - frames[3].time_s).toBeCloseTo(3e-3, 12);
    expect(scanTime_s({ ...raster, periodsPerFrame: 100 }) - scanTime_s(raster)).toBeCloseTo(24 * 2e-3, 12);
  });

  it("is monotonic and never overlaps", () => {
    for (let i = 1; i < frames.length; i++)
      expect(frames[i].time_s - frames[i - 1].time_s).toBeGreaterThan(2e-3 - 1e-12);
  });
});

it("names the slow axes in the order x, y, z", () => {
  expect([slowAxes("x"), slowAxes("y"), slowAxes("z")]).toEqual([
    ["y", "z"],
    ["x", "z"],
    ["x", "y"],
  ]);
  expect(positionAt(raster.lines.a, 2)).toBeCloseTo(0, 18);
});

it("samples the two halves of a period at mirrored phases, never at a turning point", () => {
  for (let j = 0; j < 16; j++) {
    expect(drivePhase(j, 16) + drivePhase(15 - j, 16)).toBeCloseTo(2 * Math.PI, 14);
    expect(Math.abs(Math.sin(drivePhase(j, 16)))).toBeGreaterThan(0.19);
  }
});

describe("refusals", () => {
  const line = (count: number, step_m: number) => ({ ...raster.lines, a: { from_m: 0, step_m, count } });
  it.each<[string, Partial<LineRaster>, string]>([
    ["an odd number of samples", { samplesPerPeriod: 15 }, "sampling.rate"],
    ["too few samples", { samplesPerPeriod: 6 }, "sampling.rate"],
    ["part of a sample", { samplesPerPeriod: 16.5 }, "sampling.rate"],
    ["no line", { lines: line(0, 1e-3) }, "raster.a"],
    ["lines that go back", { lines: line(3, -1e-3) }, "raster.a"],
    ["patches on one spot", { patches: { from_m: 0, step_m: 0, count: 3 } }, "raster.patches"],
    ["no drive", { driveAmplitude_T: 0 }, "drive.amplitude"],
    ["an unknown drive", { driveAmplitude_T: Number.NaN }, "drive.amplitude"],
    ["no empties", { patchesPerEmpty: 0 }, "empties.every"],
    ["one empty frame a block", { framesPerEmpty: 1 }, "empties.periods"],
  ])("%s", (_, change, path) => {
    let caught: unknown;
    try {
      rasterFrames({ ...raster, ...change });
    } catch (error) {
      caught = error;
    }
    if (!isKnownError(caught, "InvalidValue")) throw caught ?? new Error("accepted");
    expect(caught.place.path).toBe(path);
    expect(caught.accepted).not.toBe("");
  });
  it("takes a single line without a step", () => {
    expect(() => checkRaster({ ...raster, lines: line(1, 0) })).not.toThrow();
  });
});
