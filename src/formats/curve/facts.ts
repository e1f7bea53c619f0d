import { FerruleError, isKnownError } from "../../errors.js";
import { type CurveAssumption, type CurveBasis, curveBases, type MagnetisationCurve } from "../../measure/index.js";
import { parseQuantity, type QuantityKind } from "../../units/index.js";
import type { CurveDescriptor, CurveFactName } from "./descriptor.js";
import type { HeaderColumn } from "./header.js";

type MagnetisationUnit = MagnetisationCurve["magnetisationUnit"];

/** What has to be known before a table of numbers is a magnetisation curve. */
export interface CurveFacts {
  readonly fieldFactor_T: number;
  readonly magnetisationFactor: number;
  readonly magnetisationUnit: MagnetisationUnit;
  readonly basis: CurveBasis;
  readonly assumptions: readonly CurveAssumption[];
}

interface FactSource {
  readonly descriptor?: CurveDescriptor;
  /** The table. */
  readonly file?: string;
  /** What says the facts: blamed for those that are wrong. */
  readonly descriptorFile?: string;
}

/** The file to blame for a fact: the descriptor where it speaks, else the table whose header does. */
const placeOf = (
  fact: "fieldUnit" | "magnetisationUnit" | "basis",
  { descriptor, file, descriptorFile }: FactSource,
) =>
  descriptor?.facts[fact] === undefined
    ? { file, path: `the unit in the header (facts.${fact})` }
    : { file: descriptorFile ?? file, path: `facts.${fact}.value` };

/** The error that asks for a fact: names the field to add to the descriptor and shows it. */
export function missingFact(
  fact: CurveFactName | "columns",
  found: string,
  { file, example }: { file?: string; example: string },
) {
  const path = fact === "columns" ? "columns" : `facts.${fact}`;
  return new FerruleError("MissingFact", {
    file,
    path,
    found,
    accepted: `add "${path}" to the curve's descriptor, e.g. ${example}`,
  });
}

const factExample = (fact: string, value: string): string =>
  `"${fact}": { "value": "${value}", "status": "stated", "note": "who said so" }`;

/** The unit said by header or descriptor; both may speak, but not differently. */
function unitOf(fact: "fieldUnit" | "magnetisationUnit", header: HeaderColumn | undefined, source: FactSource): string {
  const said = source.descriptor?.facts[fact]?.value;
  const written = header?.unit;
  if (said !== undefined && written !== undefined && said !== written) {
    throw new FerruleError("Conflict", {
      ...placeOf(fact, source),
      found: `"${said}" in the descriptor but "${written}" in the file's header`,
      accepted: "one unit: correct the descriptor, or leave the fact out so that the header speaks",
    });
  }
  const unit = said ?? written;
  if (unit !== undefined) return unit;
  const isField = fact === "fieldUnit";
  const found = `no unit for the ${isField ? "field" : "magnetisation"} column, neither in the file nor in the descriptor`;
  throw missingFact(fact, found, { file: source.file, example: factExample(fact, isField ? "Oe" : "emu") });
}

/** SI value of one unit as a given kind, or `undefined` where the unit has another dimension. */
function factorAs(unit: string, kind: QuantityKind): number | undefined {
  try {
    return parseQuantity(`1 ${unit}`, kind);
  } catch (error) {
    if (isKnownError(error)) return undefined;
    throw error;
  }
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
  const meaning = source.descriptor?.facts.fieldMeaning?.value;
  if (meaning === undefined) {
    const found = `a field column in ${unit}, which can be mu0*H of the applied field or B inside the sample`;
    throw missingFact("fieldMeaning", found, { file: source.file, example: factExample("fieldMeaning", "applied") });
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
  const said = source.descriptor?.facts.basis?.value;
  const fitting = (Object.keys(curveBases) as CurveBasis[]).filter((b) => curveBases[b].dimensionUnit === siUnit);
  if (said === undefined) {
    if (siUnit === "A.m2") return "whole-sample";
    const found = `a magnetisation in ${siUnit} that does not say of what`;
    throw missingFact("basis", found, { file: source.file, example: factExample("basis", fitting[0]) });
  }
  if (fitting.includes(said)) return said;
  throw new FerruleError("UnitMismatch", {
    ...placeOf("basis", source),
    found: `"${said}" for a magnetisation in ${siUnit}`,
    accepted: `a basis that fits the unit: ${fitting.join(", ")}`,
  });
}

/** Every fact of the descriptor that is marked "assumed", as an advisory to carry. */
export function assumptionsOf(descriptor: CurveDescriptor | undefined): CurveAssumption[] {
  return Object.entries(descriptor?.facts ?? {}).flatMap(([fact, entry]) =>
    entry?.status === "assumed" ? [{ fact, value: entry.value, note: entry.note }] : [],
  );
}

/** Collects what header and descriptor say; refuses, by name, to go on without a fact that nobody stated. */
export function resolveFacts(
  columns: { readonly field?: HeaderColumn; readonly magnetisation?: HeaderColumn },
  source: FactSource,
): CurveFacts {
  const field = fieldFactor(unitOf("fieldUnit", columns.field, source), source);
  const { factor, siUnit } = magnetisationFactor(unitOf("magnetisationUnit", columns.magnetisation, source), source);
  const assumptions = assumptionsOf(source.descriptor).filter(({ fact }) => fact !== field.assumption?.fact);
  return {
    fieldFactor_T: field.factor_T,
    magnetisationFactor: factor,
    magnetisationUnit: siUnit,
    basis: basisOf(siUnit, source),
    assumptions: field.assumption === undefined ? assumptions : [...assumptions, field.assumption],
  };
}
