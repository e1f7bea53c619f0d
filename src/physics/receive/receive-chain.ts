import { FerruleError } from "../../errors.js";
import { requireBetween, requirePositive } from "../particle/ranges.js";
import type { BodyLoading } from "./body-loading.js";
import { type ReceiveFilter, requireFilter } from "./receive-filter.js";

/** Receive coil as a circuit: the induced voltage in series with R, L and the body; a capacitance across its ends. */
export interface ReceiveCoil {
  readonly resistance_Ohm: number;
  readonly inductance_H: number;
  /** Winding, cable, tuning and input capacitance together; 0 for none. */
  readonly capacitance_F: number;
  readonly temperature_K: number;
  readonly body?: BodyLoading | undefined;
}

export interface ReceiveAmplifier {
  readonly voltageNoise_V_per_sqrtHz: number;
  readonly currentNoise_A_per_sqrtHz: number;
  /** From the amplifier's input to the digitiser, a factor. */
  readonly gain: number;
  /** Absent: infinite. Its noise is part of the two figures above. */
  readonly inputResistance_Ohm?: number | undefined;
}

export interface Digitiser {
  /** Effective bits. */
  readonly bits: number;
  /** Full scale from the lowest to the highest code. */
  readonly range_V: number;
  /** Samples per second. */
  readonly samplingRate_Hz: number;
}

/** From the coil to the numbers, in this order: coil, filter, amplifier, digitiser. */
export interface ReceiveChain {
  readonly coil: ReceiveCoil;
  readonly filter: ReceiveFilter;
  readonly amplifier: ReceiveAmplifier;
  readonly digitiser: Digitiser;
}

/** The coil's circuit at one frequency. */
export interface CoilResponse {
  /** Voltage at the coil's ends over the induced voltage: 1 far below resonance, Q at it. */
  readonly gain: number;
  /** |Z_s|, of R + R_body + i w L in series. */
  readonly seriesImpedance_Ohm: number;
  /** |Z| seen from the amplifier: Z_s in parallel with C and the input resistance. */
  readonly outputImpedance_Ohm: number;
  /** The body's part of the resistance at this frequency. */
  readonly bodyResistance_Ohm: number;
}

/**
 * Voltage gain and impedance of the coil's circuit.
 *   Z_s = R + R_body(f) + i w L,  Y = i w C + 1/R_in,  gain = 1/|1 + Z_s Y|,  |Z| = |Z_s| gain
 *
 * Valid for   lumped elements: below the coil's own higher resonances. R is taken constant; give its value in the band.
 * Source      circuit theory. Checked by checks/receive-chain (nodal analysis in complex numbers)
 */
export function coilResponse(
  coil: ReceiveCoil,
  frequency_Hz: number,
  { inputResistance_Ohm = Number.POSITIVE_INFINITY }: { inputResistance_Ohm?: number | undefined } = {},
): CoilResponse {
  requireCoil(coil);
  requirePositive(frequency_Hz, "frequency_Hz", "75e3");
  const omega = 2 * Math.PI * frequency_Hz;
  const bodyResistance_Ohm = bodyResistanceAt_Ohm(coil, frequency_Hz);
  const r = coil.resistance_Ohm + bodyResistance_Ohm;
  const x = omega * coil.inductance_H;
  const [g, b] = [1 / inputResistance_Ohm, omega * coil.capacitance_F];
  const gain = 1 / Math.hypot(1 + r * g - x * b, r * b + x * g);
  const seriesImpedance_Ohm = Math.hypot(r, x);
  return { gain, seriesImpedance_Ohm, outputImpedance_Ohm: seriesImpedance_Ohm * gain, bodyResistance_Ohm };
}

export interface CoilResonance {
  readonly frequency_Hz: number;
  /** w L / R at resonance: the coil alone. */
  readonly quality: number;
  /** With the body and the amplifier's input resistance: 1/Q = (R + R_body)/(w L) + w L / R_in. */
  readonly loadedQuality: number;
}

/** Resonance f0 = 1/(2 pi sqrt(L C)) and its quality, bare and loaded; `undefined` without capacitance. Source: standard. */
export function coilResonance(
  coil: ReceiveCoil,
  { inputResistance_Ohm = Number.POSITIVE_INFINITY }: { inputResistance_Ohm?: number | undefined } = {},
): CoilResonance | undefined {
  requireCoil(coil);
  if (coil.capacitance_F === 0) return undefined;
  const omega = 1 / Math.sqrt(coil.inductance_H * coil.capacitance_F);
  const frequency_Hz = omega / (2 * Math.PI);
  const x = omega * coil.inductance_H;
  const loss = (coil.resistance_Ohm + bodyResistanceAt_Ohm(coil, frequency_Hz)) / x + x / inputResistance_Ohm;
  return { frequency_Hz, quality: x / coil.resistance_Ohm, loadedQuality: 1 / loss };
}

/** The body's resistance grows as the frequency squared. */
function bodyResistanceAt_Ohm({ body }: ReceiveCoil, frequency_Hz: number): number {
  return body === undefined ? 0 : body.resistance_Ohm * (frequency_Hz / body.frequency_Hz) ** 2;
}

export function requireCoil({ resistance_Ohm, inductance_H, capacitance_F, temperature_K, body }: ReceiveCoil): void {
  requireNotNegative(resistance_Ohm, "coil.resistance_Ohm", "0.5");
  requirePositive(inductance_H, "coil.inductance_H", "20e-6");
  requireNotNegative(capacitance_F, "coil.capacitance_F", "50e-12 (0 for none)");
  requirePositive(temperature_K, "coil.temperature_K", "300");
  if (body === undefined) return;
  requireNotNegative(body.resistance_Ohm, "coil.body.resistance_Ohm", "2e-3");
  requirePositive(body.frequency_Hz, "coil.body.frequency_Hz", "100e3");
  requirePositive(body.temperature_K, "coil.body.temperature_K", "310");
}

/** Refuses a chain that cannot be: negative resistances, no gain, no bits, crossed corners. */
export function requireChain({ coil, filter, amplifier, digitiser }: ReceiveChain): void {
  requireCoil(coil);
  requireFilter(filter);
  requireAmplifier(amplifier);
  requireBetween(digitiser.bits, [1, 32], { path: "digitiser.bits", example: "16" });
  requirePositive(digitiser.range_V, "digitiser.range_V", "2");
  requirePositive(digitiser.samplingRate_Hz, "digitiser.samplingRate_Hz", "2.5e6");
}

export function requireAmplifier(amplifier: ReceiveAmplifier): void {
  requireNotNegative(amplifier.voltageNoise_V_per_sqrtHz, "amplifier.voltageNoise_V_per_sqrtHz", "1e-9");
  requireNotNegative(amplifier.currentNoise_A_per_sqrtHz, "amplifier.currentNoise_A_per_sqrtHz", "1e-12");
  requirePositive(amplifier.gain, "amplifier.gain", "100");
  if (amplifier.inputResistance_Ohm !== undefined)
    requirePositive(amplifier.inputResistance_Ohm, "amplifier.inputResistance_Ohm", "1e6");
}

/** Refuses a frequency that the digitiser would fold back. */
export function requireBelowNyquist({ samplingRate_Hz }: Digitiser, frequency_Hz: number, path = "frequency_Hz"): void {
  requirePositive(frequency_Hz, path, "75e3");
  if (frequency_Hz > samplingRate_Hz / 2)
    throw new FerruleError("InvalidValue", {
      path,
      found: `${frequency_Hz} Hz, above half the sampling rate of ${samplingRate_Hz} Hz: it would fold back`,
      accepted: `a frequency up to ${samplingRate_Hz / 2} Hz, or a faster digitiser`,
    });
}

function requireNotNegative(value: number, path: string, example: string): void {
  requireBetween(value, [0, Number.MAX_VALUE], { path, example });
}
