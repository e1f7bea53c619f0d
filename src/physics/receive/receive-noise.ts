import { FerruleError } from "../../errors.js";
import { integrate } from "../../numerics/index.js";
import { coilResponse, type ReceiveChain, requireBelowNyquist, requireChain } from "./receive-chain.js";
import { filterGain } from "./receive-filter.js";
import { thermalNoise_V_per_sqrtHz } from "./thermal-noise.js";

/** Noise of a receive chain by origin, as the voltage in series with the coil that would cause it, V/Hz^0.5, one-sided. */
export interface NoiseDensity {
  readonly frequency_Hz: number;
  readonly coil: number;
  readonly body: number;
  readonly amplifierVoltage: number;
  readonly amplifierCurrent: number;
  readonly quantisation: number;
  /** Root of the sum of squares. */
  readonly total: number;
}

/**
 * Noise density referred to the induced voltage, contribution by contribution. With g the gain of the coil's circuit
 * (`coilResponse`), h the filter's and G the amplifier's:
 *   coil sqrt(4 kB T R),  body sqrt(4 kB T_b R_b(f)),  amplifier e_n / (g h) and i_n |Z_s| / h,
 *   digitiser LSB / sqrt(12) / sqrt(fs/2) / (g h G)
 * A filter before the amplifier weakens the signal and the coil's noise alike: what comes after it counts for more.
 *
 * Valid for   a filter that neither loads the coil nor makes noise; e_n and i_n uncorrelated; quantisation that is white
 *             (see `adviseOnDither`)
 * Source      facts N11, N12 (from memory), derived
 * Checked by  checks/receive-chain (nodal analysis)
 */
export function noiseDensity_V_per_sqrtHz(chain: ReceiveChain, frequency_Hz: number): NoiseDensity {
  requireChain(chain);
  requireBelowNyquist(chain.digitiser, frequency_Hz);
  const { coil, amplifier, digitiser } = chain;
  const { gain, seriesImpedance_Ohm, bodyResistance_Ohm } = coilResponse(coil, frequency_Hz, amplifier);
  const h = filterGain(chain.filter, frequency_Hz);
  const parts = {
    coil: thermalNoise_V_per_sqrtHz(coil.resistance_Ohm, coil.temperature_K),
    body: coil.body === undefined ? 0 : thermalNoise_V_per_sqrtHz(bodyResistance_Ohm, coil.body.temperature_K),
    amplifierVoltage: amplifier.voltageNoise_V_per_sqrtHz / (gain * h),
    amplifierCurrent: (amplifier.currentNoise_A_per_sqrtHz * seriesImpedance_Ohm) / h,
    quantisation: quantisationNoise_V_per_sqrtHz(digitiser) / (gain * h * amplifier.gain),
  };
  return { frequency_Hz, ...parts, total: Math.hypot(...Object.values(parts)) };
}

/** Rounding to codes, as white noise at the digitiser's input: LSB / sqrt(12) spread evenly up to half the sampling rate. */
export function quantisationNoise_V_per_sqrtHz({ bits, range_V, samplingRate_Hz }: ReceiveChain["digitiser"]): number {
  return range_V / 2 ** bits / Math.sqrt(12) / Math.sqrt(samplingRate_Hz / 2);
}

/** A band of frequencies, both ends included. */
export interface Band {
  readonly from_Hz: number;
  readonly to_Hz: number;
}

/**
 * Rms noise in a band, referred to the induced voltage: sqrt(int density^2 df), V. Meant for the pass band: where the
 * filter blocks, a voltage at the coil that makes the amplifier's noise is large without limit.
 */
export function noiseInBand_V(chain: ReceiveChain, band: Band): number {
  return Math.sqrt(integrateBand(chain, band, (f) => noiseDensity_V_per_sqrtHz(chain, f).total ** 2));
}

/** Rms noise in a band at the digitiser's input, quantisation left out: what there is to dither with, V. */
export function analogNoiseAtDigitiser_V(chain: ReceiveChain, band: Band): number {
  const power = (f: number) => {
    const { total, quantisation } = noiseDensity_V_per_sqrtHz(chain, f);
    return (total ** 2 - quantisation ** 2) * voltageGain(chain, f) ** 2;
  };
  return Math.sqrt(integrateBand(chain, band, power));
}

/** From the induced voltage to the digitiser: coil circuit, filter and amplifier, a factor. */
export function voltageGain(chain: ReceiveChain, frequency_Hz: number): number {
  return (
    coilResponse(chain.coil, frequency_Hz, chain.amplifier).gain *
    filterGain(chain.filter, frequency_Hz) *
    chain.amplifier.gain
  );
}

/** Split where the integrand bends: at corners, notches and the resonance, where a narrow feature could be missed. */
function integrateBand(chain: ReceiveChain, { from_Hz, to_Hz }: Band, power: (f: number) => number): number {
  requireChain(chain);
  requireBelowNyquist(chain.digitiser, to_Hz, "band.to_Hz");
  if (!(from_Hz >= 0 && from_Hz < to_Hz))
    throw new FerruleError("InvalidValue", {
      path: "band",
      found: `${from_Hz} to ${to_Hz} Hz`,
      accepted: "a band from a lower to a higher frequency, e.g. 50e3 to 1.25e6",
    });
  const { highPass, lowPass, notches = [] } = chain.filter;
  const { inductance_H, capacitance_F } = chain.coil;
  const bends = [
    highPass?.corner_Hz,
    lowPass?.corner_Hz,
    ...notches.flatMap(({ frequency_Hz: f, width_Hz: w }) => [f - 2 * w, f, f + 2 * w]),
    capacitance_F > 0 ? 1 / (2 * Math.PI * Math.sqrt(inductance_H * capacitance_F)) : undefined,
  ].filter((f): f is number => f !== undefined && f > from_Hz && f < to_Hz);
  const ends = [from_Hz, ...bends.sort((a, b) => a - b), to_Hz];
  return ends.slice(1).reduce((sum, end, i) => sum + integrate(power, [ends[i], end], { relative: 1e-9 }).value, 0);
}
