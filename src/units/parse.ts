import type { ErrorPlace } from "../errors.js";
import { FerruleError } from "../errors.js";
import { acceptedForKind, fromParsedUnit, unitForKind } from "./convert.js";
import { hasVanished, splitNumber } from "./decimal.js";
import { takesBareNumber } from "./kind-rules.js";
import type { QuantityKind } from "./kinds.js";

/**
 * Value in coherent SI of a quantity as a person writes it: "5.7 T/m", "25 nm", "-3.5 T/m", "1e3 mT", "37 °C".
 *
 * A bare number is refused unless the kind is `dimensionless` or `fraction`; a unit that does not fit the kind, an
 * ambiguous one, a decimal comma, a number that is not finite are refused, never guessed.
 *
 * @param text   number and unit, blank between them optional; a number (from JSON) counts as a bare number
 * @param kind   what is due at this place; applied fields and gradients are returned as mu0*H (T, T/m)
 * @param place  goes into the error: file, line, column, path
 */
export function parseQuantity(text: string | number, kind: QuantityKind, place: ErrorPlace = {}): number {
  const written = String(text).trim();
  const number = splitNumber(written.replace(/\u2212/g, "-").replace(/[\u00a0\u2009\u202f]/g, " "));
  if (number === undefined) throw refused(written, kind, { place, why: whyNoNumber(written) });
  const { digits, value, rest } = number;
  const why = whyBadNumber(digits, value, rest);
  if (why !== "") throw refused(written, kind, { place, why });
  if (rest.trim() === "") return bareNumber(value, kind, place);
  return inRange(fromParsedUnit(value, unitForKind(rest, kind, place)), written, { kind, value, place });
}

function bareNumber(value: number, kind: QuantityKind, place: ErrorPlace): number {
  if (takesBareNumber(kind)) return value;
  throw new FerruleError("UnitMismatch", {
    ...place,
    found: `${value} without a unit`,
    accepted: acceptedForKind(kind),
  });
}

/** Overflow, vanishing and temperatures below absolute zero can only be seen after conversion. */
function inRange(
  valueSI: number,
  written: string,
  { kind, value, place }: { kind: QuantityKind; value: number; place: ErrorPlace },
): number {
  const isLost = !Number.isFinite(valueSI) || (valueSI === 0 && value !== 0 && kind !== "temperature");
  if (isLost) throw refused(written, kind, { place, why: "the number is outside the range of double precision" });
  if (kind === "temperature" && valueSI < 0) throw refused(written, kind, { place, why: "below absolute zero" });
  return valueSI;
}

function whyNoNumber(written: string): string {
  if (/^[-+\u2212]?(nan|inf|∞)/i.test(written)) return "the number must be finite";
  return written === "" ? "the text is empty" : "a quantity starts with its number";
}

function whyBadNumber(digits: string, value: number, rest: string): string {
  if (/^,\d/.test(rest)) return "write a decimal point and no thousands separators: 1234.5, not 1.234,5 or 1,234.5";
  if (/^(['_’]\d|\s+\d{3}(?![\d/]))/.test(rest)) return "write digits without separators: 1234.5";
  if (!Number.isFinite(value)) return "the number must be finite";
  return hasVanished(digits, value) ? "the number is too small for double precision" : "";
}

function refused(
  written: string,
  kind: QuantityKind,
  { place, why }: { place: ErrorPlace; why: string },
): FerruleError {
  return new FerruleError("InvalidValue", {
    ...place,
    found: `"${written}"`,
    accepted: `${acceptedForKind(kind)}; ${why}`,
  });
}
