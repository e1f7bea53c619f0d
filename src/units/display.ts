import { FerruleError } from "../errors.js";
import { toUnit } from "./convert.js";
import { displayUnits } from "./display-units.js";
import type { QuantityKind } from "./kinds.js";

export interface DisplayOptions {
  /** Significant digits, 1 to 17. */
  readonly digits?: number;
  /** A unit to use in place of the one that suits the size. */
  readonly unit?: string;
  /** What the mass is of, written after the unit: "Fe". */
  readonly of?: string;
}

/**
 * A value as a person reads it: "4.723 mT", "1.20 µg Fe". The text is read back by `parseQuantity` (without `of`).
 *
 * @param valueSI  coherent SI
 * @param options.digits  4 by default: more than most inputs carry, few enough to read
 */
export function formatQuantity(
  valueSI: number,
  kind: QuantityKind,
  { digits = 4, unit = unitThatSuits(valueSI, kind, digits), of = "" }: DisplayOptions = {},
): string {
  return joinUnit(formatNumber(toUnit(valueSI, unit, kind), digits), unit, of);
}

/** The largest display unit in which the rounded value is at least 1, so that 999.96 nT at 4 digits is 1.000 uT. */
export function unitThatSuits(valueSI: number, kind: QuantityKind, digits = 4): string {
  const units = displayUnits[kind].split(" ");
  if (valueSI === 0 || !Number.isFinite(valueSI)) return units[Math.floor(units.length / 2)];
  const isAtLeastOne = (unit: string): boolean =>
    Math.abs(Number(toUnit(valueSI, unit, kind).toPrecision(checkedDigits(digits)))) >= 1;
  return units.findLast(isAtLeastOne) ?? units[0];
}

/** Significant digits without padding by powers of ten: "1.230", "12350", "3.600e-18". */
export function formatNumber(value: number, digits = 4): string {
  if (value === 0 || !Number.isFinite(value)) return String(value === 0 ? 0 : value);
  const text = value.toPrecision(checkedDigits(digits));
  if (!text.includes("e")) return text;
  const isPlain = Math.abs(value) >= 1e-3 && Math.abs(value) < 1e6;
  return isPlain ? String(Number(text)) : text.replace("e+", "e");
}

/** A unit in typographic signs: "A.m2/kg" to "A·m²/kg", "um" to "µm". `parseUnit` reads these signs too. */
export function unitForDisplay(unit: string): string {
  return unit
    .replace(/\[mu_0\]|\bmu_?0\b/g, "µ₀")
    .replace(/([A-Za-z]+)\^0\.5/g, "√$1")
    .replaceAll(".", "·")
    .replace(/(?<=[A-Za-z])\^?(-?\d+)/g, (_, digits: string) => superscript(digits))
    .replace(/(?<![A-Za-z])u(?=[A-Za-z])/g, "µ")
    .replace("Ohm", "Ω")
    .replace(/^(Cel|degC)$/, "°C");
}

/** `1.2` and `ug` to `1.2 µg`; a plain number keeps no unit. */
export function joinUnit(number: string, unit: string, of = ""): string {
  return [number, unit === "1" ? "" : unitForDisplay(unit), of].filter((part) => part !== "").join(" ");
}

function superscript(digits: string): string {
  return [...digits].map((c) => (c === "-" ? "⁻" : "⁰¹²³⁴⁵⁶⁷⁸⁹"[Number(c)])).join("");
}

function checkedDigits(digits: number): number {
  if (Number.isInteger(digits) && digits >= 1 && digits <= 17) return digits;
  throw new FerruleError("InvalidValue", {
    found: `${digits} significant digits`,
    accepted: "a whole number from 1 to 17, such as 4",
  });
}
