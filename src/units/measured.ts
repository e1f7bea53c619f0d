import { FerruleError } from "../errors.js";
import { toUnit } from "./convert.js";
import { joinUnit, unitThatSuits } from "./display.js";
import type { QuantityKind } from "./kinds.js";

/** A result as we show it to a person: both numbers in `unit`, a text of the unit table. */
export interface Measured {
  readonly value: number;
  readonly standardUncertainty: number;
  readonly unit: string;
}

/**
 * From coherent SI to a unit that a person reads.
 *
 * @param options.unit  by default the display unit that suits the larger of value and uncertainty
 */
export function measuredFromSI(
  valueSI: number,
  standardUncertaintySI: number,
  { kind, unit }: { kind: QuantityKind; unit?: string },
): Measured {
  const size = Math.abs(valueSI) >= standardUncertaintySI ? valueSI : standardUncertaintySI;
  const shown = unit ?? unitThatSuits(size, kind);
  const value = toUnit(valueSI, shown, kind);
  // A difference, so that the zero of a temperature scale drops out.
  const atZero = toUnit(0, shown, kind);
  return { value, standardUncertainty: toUnit(standardUncertaintySI, shown, kind) - atZero, unit: shown };
}

/**
 * "1.200 ± 0.080 µg Fe (k = 1)": the uncertainty with two significant digits, the value to the same decimal.
 *
 * @param options.uncertaintyDigits  2 by default; 1 gives "1.20 ± 0.08"
 * @param options.of  what the mass is of, written after the unit: "Fe"
 *
 * Source      GUM (JCGM 100:2008) 7.2.6: at most two significant digits of a standard uncertainty (from memory)
 */
export function formatWithUncertainty(
  { value, standardUncertainty, unit }: Measured,
  { uncertaintyDigits = 2, of = "" }: { uncertaintyDigits?: number; of?: string } = {},
): string {
  if (!Number.isFinite(value) || !(standardUncertainty >= 0 && Number.isFinite(standardUncertainty)))
    throw new FerruleError("InvalidValue", {
      found: `${value} ± ${standardUncertainty} ${unit}`,
      accepted: "a finite value and a standard uncertainty of 0 or more, such as 1.2 ± 0.08 ug",
    });
  const number = plusMinus(value, standardUncertainty, uncertaintyDigits);
  return `${joinUnit(number, unit, of)} (k = 1)`;
}

/** `1.200 ± 0.080`, or `(3.600 ± 0.080)e-18` where plain digits would be mostly zeros. */
function plusMinus(value: number, uncertainty: number, digits: number): string {
  if (uncertainty === 0) return `${value} ± 0`;
  const size = Math.max(Math.abs(value), uncertainty);
  if (size >= 1e-3 && size < 1e6) return alignedPair(value, uncertainty, digits);
  const exponent = Math.floor(Math.log10(size));
  const [shiftedValue, shiftedUncertainty] = [value, uncertainty].map((x) => x / Number(`1e${exponent}`));
  return `(${alignedPair(shiftedValue!, shiftedUncertainty!, digits)})e${exponent}`;
}

function alignedPair(value: number, uncertainty: number, digits: number): string {
  const rounded = uncertainty.toExponential(digits - 1); // 0.0996 is 1.0e-1 at two digits: the exponent moves
  const decimals = digits - 1 - Number(rounded.split("e")[1]);
  return `${roundTo(value, decimals)} ± ${roundTo(Number(rounded), decimals)}`;
}

/** Fixed decimals; negative counts round to tens, hundreds. */
function roundTo(value: number, decimals: number): string {
  if (decimals >= 0) return value.toFixed(Math.min(decimals, 100));
  const step = Number(`1e${-decimals}`);
  return String(Math.round(value / step) * step);
}
