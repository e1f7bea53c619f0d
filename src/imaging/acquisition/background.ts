import { FerruleError } from "../../errors.js";
import { type LineRaster, type RasterFrame, rasterFrames } from "./line-raster.js";

/** How a patch's background is made from the empties around it: (1 − late) · block + late · (block + 1). */
export interface EmptyWeights {
  /** Index of the earlier block, per patch. */
  readonly block: Int32Array;
  /** Weight of the later block, per patch, 0..1. */
  readonly late: Float64Array;
}

export interface PreparedScan {
  /** [patches × samples] background-subtracted periods in raster order, V */
  readonly frames: Float64Array;
  /** sd of one sample of one frame, V, from the scatter of frames within the blocks of empties */
  readonly noise_V: number;
  readonly noiseDegreesOfFreedom: number;
  readonly emptyWeights: EmptyWeights;
  readonly framesPerEmpty: number;
  readonly blocks: number;
  /** [interior blocks × samples] block minus the interpolation of its neighbours, V: what interpolation misses */
  readonly leaveOneOut: Float64Array;
}

/**
 * Subtracts time-stamped empties: each block of empties is averaged, and every patch takes the linear interpolation in
 * time between the blocks before and after it. Noise comes from the scatter inside the blocks (drift over a block is
 * negligible), drift from how badly each block is predicted by its neighbours.
 *
 * @param voltage  [frames × samples] in the order of acquisition, after the receive filter, V
 */
export function subtractEmpties(voltage: Float64Array, raster: LineRaster): PreparedScan {
  const n = raster.samplesPerPeriod;
  const order = rasterFrames(raster);
  if (voltage.length !== order.length * n)
    throw new FerruleError("ShapeMismatch", {
      path: "voltage",
      found: `${voltage.length / n} frames of ${n} samples`,
      accepted: `${order.length} frames: ${order.filter(({ patch }) => patch >= 0).length} patches and their empties`,
    });
  const bad = voltage.findIndex((value) => !Number.isFinite(value));
  if (bad >= 0)
    throw new FerruleError("InvalidValue", {
      path: `voltage[${Math.floor(bad / n)}][${bad % n}]`,
      found: String(voltage[bad]),
      accepted: "finite voltages",
    });
  const blocks = averageBlocks(voltage, order, n, raster.framesPerEmpty);
  const patches = order.filter(({ patch }) => patch >= 0);
  const frames = new Float64Array(patches.length * n);
  const emptyWeights = { block: new Int32Array(patches.length), late: new Float64Array(patches.length) };
  order.forEach((frame, index) => {
    if (frame.patch < 0) return;
    const { block, late } = locate(blocks.time_s, frame.time_s);
    emptyWeights.block[frame.patch] = block;
    emptyWeights.late[frame.patch] = late;
    for (let j = 0; j < n; j++)
      frames[frame.patch * n + j] =
        voltage[index * n + j] - (1 - late) * blocks.mean[block * n + j] - late * blocks.mean[(block + 1) * n + j];
  });
  return {
    frames,
    ...blocks.noise,
    emptyWeights,
    framesPerEmpty: raster.framesPerEmpty,
    blocks: blocks.time_s.length,
    leaveOneOut: leaveOneOut(blocks.mean, blocks.time_s, n),
  };
}

function averageBlocks(voltage: Float64Array, order: readonly RasterFrame[], n: number, perBlock: number) {
  const count = order.reduce((last, { emptyBlock }) => Math.max(last, emptyBlock), 0) + 1;
  const mean = new Float64Array(count * n);
  const time_s = new Float64Array(count);
  order.forEach(({ emptyBlock, time_s: t }, index) => {
    if (emptyBlock < 0) return;
    time_s[emptyBlock] += t / perBlock;
    for (let j = 0; j < n; j++) mean[emptyBlock * n + j] += voltage[index * n + j] / perBlock;
  });
  let squares = 0;
  order.forEach(({ emptyBlock }, index) => {
    if (emptyBlock < 0) return;
    for (let j = 0; j < n; j++) squares += (voltage[index * n + j] - mean[emptyBlock * n + j]) ** 2;
  });
  // The filter took three numbers of each frame (mean and both phases of the fundamental).
  const noiseDegreesOfFreedom = count * (perBlock - 1) * (n - 3);
  const perFreedom = squares / noiseDegreesOfFreedom;
  return { mean, time_s, noise: { noise_V: Math.sqrt(perFreedom), noiseDegreesOfFreedom } };
}

function locate(times: Float64Array, t: number): { block: number; late: number } {
  let block = 0;
  while (block < times.length - 2 && times[block + 1] <= t) block++;
  const late = (t - times[block]) / (times[block + 1] - times[block]);
  return { block, late: Math.min(1, Math.max(0, late)) };
}

function leaveOneOut(mean: Float64Array, times: Float64Array, n: number): Float64Array {
  const interior = Math.max(0, times.length - 2);
  const out = new Float64Array(interior * n);
  for (let b = 1; b <= interior; b++) {
    const late = (times[b] - times[b - 1]) / (times[b + 1] - times[b - 1]);
    for (let j = 0; j < n; j++)
      out[(b - 1) * n + j] = mean[b * n + j] - (1 - late) * mean[(b - 1) * n + j] - late * mean[(b + 1) * n + j];
  }
  return out;
}
