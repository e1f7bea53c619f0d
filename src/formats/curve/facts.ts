import { FerruleError } from "../../errors.js";
import { type CurveAssumption, type CurveBasis, curveBases, type MagnetisationCurve } from "../../measure/index.js";
import type { QuantityKind } from "../../units/index.js";
import type { FactSource as AnyFactSource } from "../descriptor/facts.js";
import { askFor, assumptionsOf, factorAs, placeOf, unitOf } from "../descriptor/facts.js";
import type { HeaderColumn } from "../table/header.js";
import type { CurveDescriptor } from "./descriptor.js";

type MagnetisationUnit = MagnetisationCurve["magnetisationUnit"];

/** What has to be known before a table of numbers is a magnetisation curve. */
export interface CurveFacts {
  readonly fieldFactor_T: number;
  readonly magnetisationFactor: number;
  readonly magnetisationUnit: MagnetisationUnit;
  readonly basis: CurveBasis;
  readonly assumptions: readonly CurveAssumption[];
}

interface FactSource extends AnyFactSource {
  readonly facts?: CurveDescriptor["facts"];
}

/**
 * Tesla of mu0*H per unit of the field column. A unit of H is converted by mu0. A unit of flux density leaves open
 * whether the column is mu0*H or B, which differ by mu0*M inside a dense sample, so the descriptor must say.
 */
function fieldFactor(unit: string, source: FactSource): { factor_T: number; assumption?: CurveAssumption } {
  const factor_T = factorAs(unit, "appliedField");
  if (factor_T === undefined)
    throw new FerruleError("UnitMismatch", { ...placeOf("fieldUnit", source), ...fieldUnitRefusal(unit) });
  if (factorAs(unit, "magnetisation") !== undefined) return { factor_T };
  const meaning = source.facts?.fieldMeaning?.value;
  if (meaning === undefined) {
    const found = `a field column in ${unit}, which can be mu0*H of the applied field or B inside the sample`;
    throw askFor("fieldMeaning", found, { source, value: "applied" });
  }
  if (meaning === "applied") return { factor_T };
  const note =
    "B inside the sample was read as mu0*H: right for a dilute sample, too large by mu0*M(1-N) in a dense one";
  return { factor_T, assumption: { fact: "fieldMeaning", value: "flux-density", note } };
}

export const fieldUnitRefusal = (unit: string) => ({
  found: `"${unit}", which is no unit of an applied field`,
  accepted: 'a unit of applied field, e.g. "Oe", "A/m", "kA/m", "mT" or "T"',
});

export const magnetisationUnitRefusal = (unit: string) => ({
  found: `"${unit}", which is no unit of moment or magnetisation`,
  accepted: 'a moment ("emu", "A.m2"), a moment per mass ("emu/g", "A.m2/kg") or per volume ("kA/m", "emu/cm3")',
});

export const isFieldUnit = (unit: string): boolean => factorAs(unit, "appliedField") !== undefined;
export const isMagnetisationUnit = (unit: string): boolean =>
  magnetisationKinds.some(([kind]) => factorAs(unit, kind) !== undefined);

const magnetisationKinds: readonly [QuantityKind, MagnetisationUnit][] = [
  ["magneticMoment", "A.m2"],
  ["massMagnetisation", "A.m2/kg"],
  ["magnetisation", "A/m"],
];

function magnetisationFactor(unit: string, source: FactSource): { factor: number; siUnit: MagnetisationUnit } {
  for (const [kind, siUnit] of magnetisationKinds) {
    const factor = factorAs(unit, kind);
    if (factor !== undefined) return { factor, siUnit };
  }
  throw new FerruleError("UnitMismatch", {
    ...placeOf("magnetisationUnit", source),
    ...magnetisationUnitRefusal(unit),
  });
}

/** What the magnetisation is divided by. The dimension settles a plain moment; a mass or volume must be named. */
function basisOf(siUnit: MagnetisationUnit, source: FactSource): CurveBasis {
  const said = source.facts?.basis?.value;
  const fitting = (Object.keys(curveBases) as CurveBasis[]).filter((b) => curveBases[b].dimensionUnit === siUnit);
  if (said === undefined) {
    if (siUnit === "A.m2") return "whole-sample";
    throw askFor("basis", `a magnetisation in ${siUnit} that does not say of what`, { source, value: fitting[0] });
  }
  if (fitting.includes(said)) return said;
  throw new FerruleError("UnitMismatch", {
    ...placeOf("basis", source),
    found: `"${said}" for a magnetisation in ${siUnit}`,
    accepted: `a basis that fits the unit: ${fitting.join(", ")}`,
  });
}

/** Collects what header and descriptor say; refuses, by name, to go on without a fact that nobody stated. */
export function resolveFacts(
  columns: { readonly field?: HeaderColumn; readonly magnetisation?: HeaderColumn },
  source: FactSource,
): CurveFacts {
  const field = fieldFactor(unitOf("fieldUnit", columns.field, { source, of: "field", value: "Oe" }), source);
  const unit = unitOf("magnetisationUnit", columns.magnetisation, { source, of: "magnetisation", value: "emu" });
  const { factor, siUnit } = magnetisationFactor(unit, source);
  const assumptions = assumptionsOf(source.facts).filter(({ fact }) => fact !== field.assumption?.fact);
  return {
    fieldFactor_T: field.factor_T,
    magnetisationFactor: factor,
    magnetisationUnit: siUnit,
    basis: basisOf(siUnit, source),
    assumptions: field.assumption === undefined ? assumptions : [...assumptions, field.assumption],
  };
}
