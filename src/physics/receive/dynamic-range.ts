import { FerruleError } from "../../errors.js";
import { coilResponse, type ReceiveChain, requireBelowNyquist, requireChain } from "./receive-chain.js";
import { analogNoiseAtDigitiser_V, type Band, voltageGain } from "./receive-noise.js";

/** A line that enters at the coil beside the signal: the drive's feedthrough or one of its harmonics. */
export interface FeedthroughLine {
  readonly frequency_Hz: number;
  /** Peak of the induced voltage. */
  readonly amplitude_V: number;
}

export interface DynamicRange {
  /** Sum of the peaks at the digitiser's input, as if they met in phase, V. */
  readonly peakAtDigitiser_V: number;
  /** That over half the range: above 1 the digitiser clips. */
  readonly fullScaleShare: number;
  /** Rms noise of the analogue chain at the digitiser, in the band, V. */
  readonly noiseAtDigitiser_V: number;
  /** 20 log10(peak / noise); -Infinity when nothing comes through, and so the bits. */
  readonly demanded_dB: number;
  /** Bits at which all of the rounding (to half the sampling rate) equals that noise and the peak still fits: log2(2 peak / (sqrt(12) noise)). */
  readonly demandedBits: number;
  /** The digitiser's own: 20 log10 of half the range over its rounding in the band. */
  readonly available_dB: number;
  readonly advisories: readonly string[];
}

/**
 * Dynamic range that the feedthrough demands of the digitiser after coil circuit, filter and amplifier, and what there is.
 *
 * @param lines  peaks at the coil
 * @param band  band in which the noise is counted, e.g. the receive bandwidth
 * Valid for   lines below half the sampling rate. The amplifier's own clipping is not modelled.
 * Source      definition; LSB/sqrt(12) textbook. Checked by dynamic-range.test.ts, checks/receive-chain
 */
export function dynamicRange(chain: ReceiveChain, lines: readonly FeedthroughLine[], band: Band): DynamicRange {
  requireChain(chain);
  lines.forEach(({ frequency_Hz, amplitude_V }, i) => {
    requireBelowNyquist(chain.digitiser, frequency_Hz, `lines[${i}].frequency_Hz`);
    if (!(Number.isFinite(amplitude_V) && amplitude_V >= 0))
      throw new FerruleError("InvalidValue", {
        path: `lines[${i}].amplitude_V`,
        found: String(amplitude_V),
        accepted: "a peak voltage from 0, e.g. 4",
      });
  });
  const peak = lines.reduce((sum, line) => sum + line.amplitude_V * voltageGain(chain, line.frequency_Hz), 0);
  const noise = analogNoiseAtDigitiser_V(chain, band);
  const { range_V, bits, samplingRate_Hz } = chain.digitiser;
  const step_V = range_V / 2 ** bits;
  const roundingInBand_V = (step_V / Math.sqrt(12)) * Math.sqrt((band.to_Hz - band.from_Hz) / (samplingRate_Hz / 2));
  const share = peak / (range_V / 2);
  return {
    peakAtDigitiser_V: peak,
    fullScaleShare: share,
    noiseAtDigitiser_V: noise,
    demanded_dB: 20 * Math.log10(peak / noise),
    demandedBits: Math.log2((2 * peak) / (Math.sqrt(12) * noise)),
    available_dB: 20 * Math.log10(range_V / 2 / roundingInBand_V),
    advisories: [...adviseOnFullScale(share), ...adviseOnDither(noise / step_V), ...adviseOnResonance(chain, lines)],
  };
}

function adviseOnFullScale(share: number): string[] {
  if (share <= 1) return [];
  return [`the feedthrough reaches ${share.toPrecision(3)} times full scale: the digitiser clips`];
}

/**
 * Rounding is white and independent of the signal only when noise spreads the input over codes.
 * Source   Widrow & Kollar, Quantization Noise (2008): Gaussian noise of half a code is enough; from memory.
 */
export function adviseOnDither(noiseInCodes: number): string[] {
  if (noiseInCodes >= 0.5) return [];
  return [
    `the noise at the digitiser is ${noiseInCodes.toPrecision(2)} of a code (rms): below one half, rounding is no white noise but distorts the lines, and averaging does not lower it`,
  ];
}

function adviseOnResonance(chain: ReceiveChain, lines: readonly FeedthroughLine[]): string[] {
  const gains = lines.map(({ frequency_Hz }) => coilResponse(chain.coil, frequency_Hz, chain.amplifier).gain);
  if (gains.every((gain) => gain < 2)) return [];
  return ["a feedthrough line lies near the coil's resonance and is raised more than twice by it"];
}
