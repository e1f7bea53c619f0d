import type { ErrorPlace } from "../errors.js";
import { FerruleError, isKnownError } from "../errors.js";
import { vacuumPermeability_T_m_per_A } from "./constants.js";
import { shiftDecimal } from "./decimal.js";
import { combine, dimensionText, isSameDimension } from "./dimension.js";
import type { Unit } from "./grammar.js";
import { parseUnit } from "./grammar.js";
import { adviceOnKind, suitsKind, takesFieldStrength } from "./kind-rules.js";
import type { QuantityKind } from "./kinds.js";
import { quantityKinds } from "./kinds.js";

const permeability = parseUnit("[mu_0]").dimension;

/** mu0*H in tesla of a field strength in A/m. The same factor takes A/m2 to T/m. */
export function fieldFromStrength(strength_A_per_m: number): number {
  return strength_A_per_m * vacuumPermeability_T_m_per_A;
}

/** Field strength H in A/m of mu0*H in tesla. */
export function strengthFromField(field_T: number): number {
  return field_T / vacuumPermeability_T_m_per_A;
}

/**
 * Value in coherent SI of a number in a unit. Powers of ten are exact in decimals: fromUnit(25, "nm") === 2.5e-8.
 *
 * @param unit  text of a unit, "mT"
 * @param kind  when given, the unit must fit it, and field strengths become mu0*H for applied fields and gradients
 */
export function fromUnit(value: number, unit: string, kind?: QuantityKind): number {
  return fromParsedUnit(value, kind === undefined ? parseUnit(unit) : unitForKind(unit, kind));
}

/** Number in a unit of a value in coherent SI: the inverse of `fromUnit`, same parameters. */
export function toUnit(value: number, unit: string, kind?: QuantityKind): number {
  return toParsedUnit(value, kind === undefined ? parseUnit(unit) : unitForKind(unit, kind));
}

export function fromParsedUnit(value: number, unit: Unit): number {
  const scale = unit.scale * vacuumPermeability_T_m_per_A ** unit.mu0Power;
  return shiftDecimal(value, unit.exponent10) * scale + unit.offset_K;
}

export function toParsedUnit(value: number, unit: Unit): number {
  const scale = unit.scale * vacuumPermeability_T_m_per_A ** unit.mu0Power;
  return shiftDecimal((value - unit.offset_K) / scale, -unit.exponent10);
}

/** The unit, made to give the kind's own SI unit; refused with what fits when it cannot. */
export function unitForKind(text: string, kind: QuantityKind, place: ErrorPlace = {}): Unit {
  const unit = readForKind(text, kind, place);
  const wanted = parseUnit(quantityKinds[kind].siUnit).dimension;
  if (isSameDimension(unit.dimension, wanted) && suitsKind(unit, kind)) return unit;
  const asField = timesPermeability(unit);
  if (takesFieldStrength(kind) && isSameDimension(asField.dimension, wanted) && suitsKind(asField, kind))
    return asField;
  throw wrongKind(unit, kind, place);
}

/** A symbol that cannot be read is refused with what would fit here as well as with what is wrong with it. */
function readForKind(text: string, kind: QuantityKind, place: ErrorPlace): Unit {
  try {
    return parseUnit(text);
  } catch (error) {
    if (!isKnownError(error)) throw error;
    const { code, found, accepted } = error;
    throw new FerruleError(code, { ...place, found, accepted: `${acceptedForKind(kind)}; ${accepted}` });
  }
}

function timesPermeability(unit: Unit): Unit {
  return {
    ...unit,
    mu0Power: unit.mu0Power + 1,
    dimension: combine(unit.dimension, permeability, 1),
    factor: unit.factor * vacuumPermeability_T_m_per_A,
  };
}

/** `massConcentration (SI: kg/m3), such as "5 mg/mL"`: part of every refusal. */
export function acceptedForKind(kind: QuantityKind): string {
  const { siUnit, example } = quantityKinds[kind];
  return `${kind} (SI: ${siUnit}), such as "${example}"`;
}

function wrongKind(unit: Unit, kind: QuantityKind, place: ErrorPlace): FerruleError {
  const advice = adviceOnKind(unit, kind);
  return new FerruleError("UnitMismatch", {
    ...place,
    found: `unit "${unit.text}" (${dimensionText(unit.dimension)})`,
    accepted: `${acceptedForKind(kind)}${advice === "" ? "" : `; ${advice}`}`,
  });
}
