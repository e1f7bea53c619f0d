import { FerruleError } from "../../errors.js";
import { requireBetween, requirePositive } from "../particle/ranges.js";

/** Edge of a Butterworth filter: 3 dB down at the corner, 6 dB per octave and order beyond it. */
export interface FilterEdge {
  readonly corner_Hz: number;
  readonly order: number;
}

/** A notch of second order, e.g. on the drive frequency. */
export interface Notch {
  readonly frequency_Hz: number;
  /** Width between the 3 dB points of a notch of infinite depth. */
  readonly width_Hz: number;
  /** Attenuation at its centre, as measured; a field of the scanner document. */
  readonly attenuation_dB: number;
}

/** Filter between the receive coil and the amplifier. An empty object passes everything. */
export interface ReceiveFilter {
  readonly highPass?: FilterEdge | undefined;
  readonly lowPass?: FilterEdge | undefined;
  readonly notches?: readonly Notch[] | undefined;
}

/**
 * Magnitude of the filter's transfer.
 *   low pass 1/sqrt(1 + (f/fc)^2n), high pass 1/sqrt(1 + (fc/f)^2n),
 *   notch sqrt((x^2 + d^2)/(x^2 + 1)), x = (f0/width)(f/f0 - f0/f), d = 10^(-attenuation/20)
 * The parts multiply.
 *
 * @param frequency_Hz  above 0
 * Valid for   magnitudes. The phase is not modelled: harmonics are compared one by one with a measured reference.
 * Source      Butterworth, Wireless Engineer 7:536 (1930); notch: textbook biquad; from memory
 * Checked by  checks/receive-chain (scipy, analogue Butterworth and biquad)
 */
export function filterGain(filter: ReceiveFilter, frequency_Hz: number): number {
  requirePositive(frequency_Hz, "frequency_Hz", "75e3");
  requireFilter(filter);
  const { highPass, lowPass, notches = [] } = filter;
  let power = 1;
  if (highPass !== undefined) power /= 1 + (highPass.corner_Hz / frequency_Hz) ** (2 * highPass.order);
  if (lowPass !== undefined) power /= 1 + (frequency_Hz / lowPass.corner_Hz) ** (2 * lowPass.order);
  for (const { frequency_Hz: f0, width_Hz, attenuation_dB } of notches) {
    const x = (f0 / width_Hz) * (frequency_Hz / f0 - f0 / frequency_Hz);
    power *= (x * x + 10 ** (-attenuation_dB / 10)) / (x * x + 1);
  }
  return Math.sqrt(power);
}

/** Attenuation, dB, positive: -20 log10 of the gain. */
export function filterAttenuation_dB(filter: ReceiveFilter, frequency_Hz: number): number {
  return -20 * Math.log10(filterGain(filter, frequency_Hz)) + 0;
}

/** Refuses corners that cross, orders that are no whole number, and notches without width. */
export function requireFilter({ highPass, lowPass, notches = [] }: ReceiveFilter): void {
  if (highPass !== undefined) requireEdge(highPass, "filter.highPass");
  if (lowPass !== undefined) requireEdge(lowPass, "filter.lowPass");
  if (highPass !== undefined && lowPass !== undefined && highPass.corner_Hz >= lowPass.corner_Hz)
    throw new FerruleError("InvalidValue", {
      path: "filter.lowPass.corner_Hz",
      found: `${lowPass.corner_Hz} Hz, not above the high pass at ${highPass.corner_Hz} Hz`,
      accepted: "a low pass above the high pass, e.g. 1.2e6 over 40e3",
    });
  notches.forEach((notch, i) => {
    requirePositive(notch.frequency_Hz, `filter.notches[${i}].frequency_Hz`, "25e3");
    requirePositive(notch.width_Hz, `filter.notches[${i}].width_Hz`, "2e3");
    requireBetween(notch.attenuation_dB, [0, 300], { path: `filter.notches[${i}].attenuation_dB`, example: "80" });
  });
}

function requireEdge({ corner_Hz, order }: FilterEdge, path: string): void {
  requirePositive(corner_Hz, `${path}.corner_Hz`, "40e3");
  if (!(Number.isInteger(order) && order >= 1 && order <= 20))
    throw new FerruleError("InvalidValue", {
      path: `${path}.order`,
      found: String(order),
      accepted: "a whole number from 1 to 20, e.g. 3",
    });
}
