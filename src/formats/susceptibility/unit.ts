import { FerruleError, isKnownError } from "../../errors.js";
import { type AcSusceptibility, curveBases, type SusceptibilityBasis } from "../../measure/index.js";
import { parseUnit, type Unit } from "../../units/index.js";
import { askFor, type FactSource, placeOf } from "../descriptor/facts.js";
import type { SusceptibilityDescriptor } from "./descriptor.js";

export interface SusceptibilityFactSource extends FactSource {
  readonly facts: SusceptibilityDescriptor["facts"];
}

type SiUnit = Exclude<AcSusceptibility["unit"], "arbitrary">;

export interface SusceptibilityScale {
  /** SI value of one unit; 1 where the scale is unknown. */
  readonly factor: number;
  readonly unit: AcSusceptibility["unit"];
}

interface UnitReading {
  readonly factor: number;
  readonly unit: SiUnit;
  /** The system that the symbols belong to; `undefined` for lengths and masses alone, which both systems use. */
  readonly system?: "SI" | "cgs";
}

const arbitraryWords = new Set(["arbitrary", "arb. u.", "a.u."]);
const siUnits: readonly SiUnit[] = ["1", "m3/kg", "m3"];

function tryUnit(text: string): Unit | undefined {
  try {
    return parseUnit(text);
  } catch (error) {
    if (isKnownError(error)) return undefined;
    throw error;
  }
}

const hasDimensionOf = (unit: Unit, other: string): boolean =>
  parseUnit(other).dimension.every((exponent, i) => exponent === unit.dimension[i]);

function systemOf({ symbols, text }: Unit): UnitReading["system"] {
  if (symbols.some((symbol) => ["emu", "Oe", "G"].includes(symbol))) return "cgs";
  if (symbols.some((symbol) => ["A", "T"].includes(symbol))) return "SI";
  return /(^|[^a-z])m3/i.test(text) ? "SI" : undefined; // nobody counts cgs susceptibilities in cubic metres
}

/** A unit of moment over field strength, or over mu0*H in tesla or gauss, which differs by mu0. */
function readUnit(text: string): UnitReading | undefined {
  for (const written of [text, `${text}.[mu_0]`]) {
    const unit = tryUnit(written);
    const fitting = unit && siUnits.find((each) => hasDimensionOf(unit, each));
    if (unit !== undefined && fitting !== undefined)
      return { factor: unit.factor, unit: fitting, system: systemOf(unit) };
  }
  return undefined;
}

export const isArbitrary = (unit: string): boolean => arbitraryWords.has(unit.toLowerCase());
export const isSusceptibilityUnit = (unit: string): boolean => isArbitrary(unit) || readUnit(unit) !== undefined;

export const susceptibilityUnitRefusal = (unit: string) => ({
  found: `"${unit}", which is no unit of susceptibility`,
  accepted:
    '"1" (per volume), "m3/kg" or "emu/g/Oe" (per mass), "m3", "emu/Oe" or "A.m2/T" (whole sample), or "arbitrary"; ' +
    "a moment is divided by the amplitude of H first",
});

/**
 * SI value of one unit of susceptibility, M/H.
 *   emu/Oe = 4 pi 1e-6 m3, emu/g/Oe = 4 pi 1e-3 m3/kg, cgs volume susceptibility 1 = 4 pi in SI
 * Units of length and mass alone (1, cm3, cm3/g) mean different things in SI and cgs, by 4 pi: the system is asked for.
 *
 * @throws FerruleError UnitMismatch, MissingFact, Conflict
 *
 * Checked by  read.test.ts (4 pi worked by hand)
 */
export function susceptibilityScale(text: string, source: SusceptibilityFactSource): SusceptibilityScale {
  if (isArbitrary(text)) return { factor: 1, unit: "arbitrary" };
  const reading = readUnit(text);
  if (reading === undefined) {
    const place = placeOf("susceptibilityUnit", source);
    throw new FerruleError("UnitMismatch", { ...place, ...susceptibilityUnitRefusal(text) });
  }
  const said = source.facts.unitSystem?.value;
  if (reading.system === undefined) {
    const found = `a susceptibility in ${text}, which differs by 4 pi between SI and cgs`;
    if (said === undefined) throw askFor("unitSystem", found, { source, value: "SI" });
    return { factor: said === "cgs" ? 4 * Math.PI * reading.factor : reading.factor, unit: reading.unit };
  }
  if (said !== undefined && said !== reading.system) {
    throw new FerruleError("Conflict", {
      ...placeOf("unitSystem", source),
      found: `"${said}" for a susceptibility in ${text}, a unit of ${reading.system}`,
      accepted: "the system of the unit, or none: the unit tells it",
    });
  }
  return { factor: reading.factor, unit: reading.unit };
}

const dimensionOfMoment = { "1": "A/m", "m3/kg": "A.m2/kg", m3: "A.m2" } as const;

/** What the susceptibility is divided by. The dimension settles that of the whole sample; others must be named. */
export function susceptibilityBasis(
  unit: AcSusceptibility["unit"],
  source: SusceptibilityFactSource,
): SusceptibilityBasis {
  if (unit === "arbitrary") return "arbitrary";
  const said = source.facts.basis?.value;
  const fitting = (Object.keys(curveBases) as (keyof typeof curveBases)[]).filter(
    (basis) => curveBases[basis].dimensionUnit === dimensionOfMoment[unit],
  );
  if (said === undefined) {
    if (unit === "m3") return "whole-sample";
    const value = unit === "1" ? "per-sample-volume" : "per-iron-mass";
    throw askFor("basis", `a susceptibility in ${unit} (SI) that does not say of what`, { source, value });
  }
  if (fitting.includes(said)) return said;
  throw new FerruleError("UnitMismatch", {
    ...placeOf("basis", source),
    found: `"${said}" for a susceptibility in ${unit} (SI)`,
    accepted: `a basis that fits the unit: ${fitting.join(", ")}`,
  });
}
