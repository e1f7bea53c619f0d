import type { RandomStream } from "../../numerics/index.js";
import { drivePhase, type LineRaster, rasterFrames } from "./line-raster.js";
import { removeFundamental } from "./period-harmonics.js";

/**
 * What a real receive chain adds to the tracer's voltage.
 * Feedthrough is the drive field seen directly: the receive filter takes its fundamental, its harmonic distortion stays
 * and drifts slowly in size.
 */
export interface Nuisances {
  /** White noise of coil and amplifier together, V/√Hz. */
  readonly noise_V_per_rtHz: number;
  /** Peak voltage of the drive's fundamental that reaches the receiver, V. */
  readonly feedthrough_V: number;
  /** Amplitude of its harmonic n relative to the fundamental is distortion / n². */
  readonly distortion: number;
  /** Relative rms change of the feedthrough over `drift_s`. */
  readonly driftAmplitude: number;
  /** Shortest time in which the feedthrough changes, s. */
  readonly drift_s: number;
}

/** sd of one sample of one averaged frame, V: white noise over the band to half the sampling rate. */
export function sampleNoise_V({ noise_V_per_rtHz }: Nuisances, raster: LineRaster): number {
  const band_Hz = (raster.samplesPerPeriod * raster.frequency_Hz) / 2;
  return (noise_V_per_rtHz * Math.sqrt(band_Hz)) / Math.sqrt(raster.periodsPerFrame);
}

/**
 * Voltage as recorded: tracer signal in the patches, none in the empties, feedthrough and noise in both, receive filter
 * over all.
 *
 * @param signal  [patches × samples] noise-free tracer voltage in raster order, V; undefined for an empty scan
 * @returns [frames × samples] in the order of acquisition, V
 */
export function recordVoltage(
  signal: Float64Array | undefined,
  raster: LineRaster,
  nuisances: Nuisances,
  random: RandomStream,
): Float64Array {
  const n = raster.samplesPerPeriod;
  const order = rasterFrames(raster);
  const out = new Float64Array(order.length * n);
  random.fillNormal(out);
  const sd = sampleNoise_V(nuisances, raster);
  const shape = feedthroughPeriod(nuisances, n);
  const drift = slowDrift(nuisances, random);
  order.forEach(({ patch, time_s }, index) => {
    const size = 1 + drift(time_s);
    for (let j = 0; j < n; j++) {
      const tracer = signal === undefined || patch < 0 ? 0 : signal[patch * n + j];
      out[index * n + j] = out[index * n + j] * sd + tracer + size * shape[j];
    }
  });
  return removeFundamental(out, n);
}

function feedthroughPeriod({ feedthrough_V, distortion }: Nuisances, n: number): Float64Array {
  return Float64Array.from({ length: n }, (_, j) => {
    const theta = drivePhase(j, n);
    let sum = Math.sin(theta);
    for (let h = 2; h < n / 2; h++) sum += (distortion / h ** 2) * Math.sin(h * theta + 0.7 * h);
    return feedthrough_V * sum;
  });
}

/** Smooth drift: eight sinusoids of random phase with periods of 2π·drift_s and longer; rms `driftAmplitude`. */
function slowDrift({ driftAmplitude, drift_s }: Nuisances, random: RandomStream): (time_s: number) => number {
  const waves = Array.from({ length: 8 }, () => ({
    rate: random.uniform() / drift_s,
    phase: 2 * Math.PI * random.uniform(),
  }));
  const scale = driftAmplitude * Math.sqrt(2 / waves.length);
  return (time_s) => scale * waves.reduce((sum, { rate, phase }) => sum + Math.cos(rate * time_s + phase), 0);
}
