import { FerruleError } from "../../errors.js";
import { requirePositive } from "../particle/ranges.js";
import { coilResponse, type ReceiveAmplifier, type ReceiveCoil, requireAmplifier } from "./receive-chain.js";

/** What an ideal transformer between coil and amplifier could gain. */
export interface NoiseMatch {
  /** e_n/i_n: the source impedance at which the amplifier's two terms are equal. */
  readonly optimalImpedance_Ohm: number;
  /** sqrt(e_n / (i_n |Z|)): turns on the amplifier's side per turn on the coil's. */
  readonly turnsRatio: number;
  /** Amplifier noise at the coil's ends as it stands: sqrt(e_n^2 + i_n^2 |Z|^2). */
  readonly amplifierNoise_V_per_sqrtHz: number;
  /** With that transformer: sqrt(2 e_n i_n |Z|), the least there is at this frequency. */
  readonly matchedNoise_V_per_sqrtHz: number;
}

/**
 * Noise matching at one frequency: a transformer 1:n turns the amplifier into e_n/n and n i_n, and
 * (e_n/n)^2 + (n i_n |Z|)^2 is least at n^2 = e_n/(i_n |Z|).
 *
 * Valid for   one frequency and an ideal transformer: over a band a compromise, and never below the coil's thermal noise
 * Source      facts N12 (from memory), derived. Checked by noise-matching.test.ts
 */
export function noiseMatch(coil: ReceiveCoil, amplifier: ReceiveAmplifier, frequency_Hz: number): NoiseMatch {
  requireAmplifier(amplifier);
  const { voltageNoise_V_per_sqrtHz: e, currentNoise_A_per_sqrtHz: i } = amplifier;
  requirePositive(e, "amplifier.voltageNoise_V_per_sqrtHz", "1e-9");
  if (!(i > 0))
    throw new FerruleError("InvalidValue", {
      path: "amplifier.currentNoise_A_per_sqrtHz",
      found: String(i),
      accepted: "a current noise above 0, e.g. 1e-12 (without it, more turns are always better)",
    });
  const { outputImpedance_Ohm: z } = coilResponse(coil, frequency_Hz, amplifier);
  return {
    optimalImpedance_Ohm: e / i,
    turnsRatio: Math.sqrt(e / (i * z)),
    amplifierNoise_V_per_sqrtHz: Math.hypot(e, i * z),
    matchedNoise_V_per_sqrtHz: Math.sqrt(2 * e * i * z),
  };
}
