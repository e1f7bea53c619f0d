import type { SpectrumQuantity } from "./descriptor.js";

/** How the file's complex values become moments. */
export interface ToMoment {
  readonly quantity: SpectrumQuantity;
  /** Real factor: unit of the file to SI, amplitude to peak. */
  readonly factor: number;
  /** w of the drive; 1 where the scale of the values is arbitrary. */
  readonly angularFrequency_rad_per_s: number;
  /** B_R/I with the sign of the coil's polarity; +-1 where the scale is arbitrary. Used for voltages. */
  readonly sensitivity_T_per_A: number;
  readonly phaseConvention: "exp(+iwt)" | "exp(-iwt)";
  readonly driveWaveform: "cosine" | "sine";
}

/**
 * Factor c_k with m_k = c_k X_k (X_k conjugated first where the file's phases run with e^{-iwt}).
 *   moment        c = 1
 *   moment rate   dm/dt: c = 1 / (i k w)
 *   voltage       u = -(B_R/I) dm/dt: c = -1 / (i k w B_R/I)
 *   sine drive    A sin wt = A cos(wt - pi/2): the clock starts a quarter period later, c is multiplied by i^k
 *
 * @returns [re, im]
 *
 * Source      Faraday's law and the shift theorem; conventions as in the definitions (B_R/I, no further mu0)
 * Checked by  checks/curve-reading (numpy: a lagging moment sampled in time, its FFT in every convention)
 */
export function momentFactor(k: number, to: ToMoment): readonly [number, number] {
  const { quantity, factor, angularFrequency_rad_per_s: w, sensitivity_T_per_A: s } = to;
  // 1/i = -i is three quarter turns, -1/i = i is one.
  const turns = quantity === "moment" ? 0 : quantity === "moment-rate" ? 3 : 1;
  const size = quantity === "moment" ? factor : quantity === "moment-rate" ? factor / (k * w) : factor / (k * w * s);
  return quarterTurns(size, turns + (to.driveWaveform === "sine" ? k : 0));
}

/** size * i^n, exactly. */
function quarterTurns(size: number, n: number): readonly [number, number] {
  return (
    [
      [size, 0],
      [0, size],
      [-size, 0],
      [0, -size],
    ] as const
  )[n % 4];
}

/** Moments of harmonics, interleaved re, im, from the file's interleaved values. Standard deviations go by |c_k|. */
export function toMoments(harmonic: Int32Array, values: Float64Array, to: ToMoment): Float64Array {
  const out = new Float64Array(values.length);
  const sign = to.phaseConvention === "exp(-iwt)" ? -1 : 1;
  for (let i = 0; i < harmonic.length; i++) {
    const [re, im] = momentFactor(harmonic[i], to);
    const x = values[2 * i];
    const y = sign * values[2 * i + 1];
    out[2 * i] = re * x - im * y + 0; // no negative zeros
    out[2 * i + 1] = re * y + im * x + 0;
  }
  return out;
}
