import { describe, expect, it } from "vitest";
import { smallGeometry } from "../../../checks/imaging/small-raster.js";
import { stream } from "../../numerics/index.js";
import { drivePhase, rasterFrames } from "./line-raster.js";
import { type Nuisances, recordVoltage, sampleNoise_V } from "./nuisances.js";
import { periodBasis, projectFrames, removeFundamental } from "./period-harmonics.js";

const { raster } = smallGeometry({ patchesPerEmpty: 6, framesPerEmpty: 3 });
const n = raster.samplesPerPeriod;
const order = rasterFrames(raster);
const silent: Nuisances = { noise_V_per_rtHz: 0, feedthrough_V: 0, distortion: 0, driftAmplitude: 0, drift_s: 1 };
const basis = periodBasis(n, 1, n / 2 - 1);
const kept = n / 2 - 1;

describe("what the receive chain adds", () => {
  it("nothing: the recorded voltage is the filtered signal in the patches and 0 in the empties", () => {
    const signal = stream(4).fillNormal(new Float64Array(36 * n));
    const recorded = recordVoltage(signal, raster, silent, stream(1));
    const filtered = removeFundamental(signal.slice(), n);
    order.forEach(({ patch }, index) => {
      for (let j = 0; j < n; j++) expect(recorded[index * n + j]).toBe(patch < 0 ? 0 : filtered[patch * n + j]);
    });
  });

  it("noise: harmonics of sd noise density / √(frame time), whatever the sampling rate", () => {
    const noise_V_per_rtHz = 2e-9;
    const frame_s = raster.periodsPerFrame / raster.frequency_Hz;
    for (const samplesPerPeriod of [64, 128]) {
      const sampled = { ...raster, samplesPerPeriod };
      const frames = recordVoltage(undefined, sampled, { ...silent, noise_V_per_rtHz }, stream(11));
      const { sine } = periodBasis(samplesPerPeriod, 2, 20);
      const harmonics = projectFrames(frames, sine, samplesPerPeriod);
      // A quadrature amplitude over T seconds of white one-sided noise S has variance S²/T.
      const ratio = harmonics.reduce((sum, v) => sum + v * v, 0) / harmonics.length / (noise_V_per_rtHz ** 2 / frame_s);
      expect(Math.abs(ratio - 1)).toBeLessThan(3.9 * Math.sqrt(2 / harmonics.length));
    }
    expect(sampleNoise_V({ ...silent, noise_V_per_rtHz }, raster)).toBeCloseTo(
      2e-9 * Math.sqrt(32 * 25e3) * Math.sqrt(1 / 50),
      18,
    );
  });

  it("feedthrough: the fundamental is filtered away, distortion / n² of it stays, in empties too", () => {
    const frames = recordVoltage(undefined, raster, { ...silent, feedthrough_V: 4, distortion: 1e-3 }, stream(1));
    const sine = projectFrames(frames, basis.sine, n);
    const cosine = projectFrames(frames, basis.cosine, n);
    for (const frame of [0, order.length - 1])
      for (let h = 0; h < kept; h++) {
        const expected = h === 0 ? 0 : (4 * 1e-3) / (h + 1) ** 2;
        expect(Math.hypot(sine[frame * kept + h], cosine[frame * kept + h])).toBeCloseTo(expected, 13);
      }
  });

  it("drift: relative rms over scans is what was asked, and it is slow", () => {
    const nuisances = { ...silent, feedthrough_V: 1, distortion: 1, driftAmplitude: 0.1, drift_s: 5 };
    const scans = 300;
    const last = order.length - 1;
    let [square, step] = [0, 0];
    for (let seed = 0; seed < scans; seed++) {
      const frames = recordVoltage(undefined, raster, nuisances, stream(2, 0, seed));
      const at = (frame: number) => size(frames.subarray(frame * n, (frame + 1) * n));
      square += (at(last) - 1) ** 2 / scans;
      step = Math.max(step, Math.abs(at(1) - at(0)));
    }
    // Mean of squares of 300 nearly normal numbers: relative sd √(2/300) = 8 %; four of them.
    expect(Math.abs(Math.sqrt(square) / 0.1 - 1)).toBeLessThan(0.17);
    // |d/dt| <= Σ rates · scale <= 8 · 0.1 √(2/8) / 5 s, over one frame.
    const frame_s = raster.periodsPerFrame / raster.frequency_Hz;
    expect(step).toBeLessThan(((8 * 0.1 * 0.5) / 5) * frame_s);
  });

  it("is repeatable from its stream, and differs between streams", () => {
    const nuisances = { noise_V_per_rtHz: 1e-9, feedthrough_V: 1, distortion: 1e-3, driftAmplitude: 0.01, drift_s: 1 };
    const record = (seed: number) => recordVoltage(undefined, raster, nuisances, stream(seed));
    expect([...record(5)]).toEqual([...record(5)]);
    expect(record(5)[100]).not.toBe(record(6)[100]);
  });
});

/** Second harmonic over its undisturbed size distortion/4. */
function size(frame: Float64Array): number {
  let [s, c] = [0, 0];
  for (let j = 0; j < n; j++) {
    s += (2 / n) * frame[j] * Math.sin(2 * drivePhase(j, n));
    c += (2 / n) * frame[j] * Math.cos(2 * drivePhase(j, n));
  }
  return Math.hypot(s, c) * 4;
}
