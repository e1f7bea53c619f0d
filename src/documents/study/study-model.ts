import type { Vector3 } from "../fields/vector-field.js";
import type { Question } from "./question-field.js";
import type { ParsedScan } from "./scan-field.js";
import type { ParsedStudy } from "./study-schema.js";

/** A study in SI. Paths are relative to the study document's folder. */
export interface StudyModel {
  readonly name: string;
  readonly invented: boolean;
  readonly notice?: string | undefined;
  readonly description?: string | undefined;
  readonly tracerPath: string;
  readonly scannerPath: string;
  readonly protocolPath: string;
  readonly scans: readonly StudyScan[];
  readonly calibration?: StudyCalibration | undefined;
  readonly regions: readonly StudyRegion[];
  readonly questions: readonly Question[];
  readonly advisories: readonly string[];
}

export interface StudyScan {
  readonly name: string;
  readonly role: ParsedScan["role"];
  readonly source:
    | { readonly kind: "phantom"; readonly phantomPath: string; readonly seed: number }
    | { readonly kind: "nothing"; readonly seed: number }
    | { readonly kind: "recorded"; readonly dataPath: string };
}

export interface StudyCalibration {
  readonly vials: readonly {
    readonly label: string;
    readonly ironMass_kg: number;
    readonly standardUncertainty_kg: number;
    readonly scan?: string | undefined;
  }[];
  /** Common to all vials, so correlated between them. */
  readonly stockAssayRelativeUncertainty: number;
}

export interface StudyRegion {
  readonly label: string;
  readonly shape:
    | { readonly kind: "sphere"; readonly center_m: Vector3; readonly diameter_m: number }
    | { readonly kind: "box"; readonly center_m: Vector3; readonly size_m: Vector3 };
}

export function toStudyModel(parsed: ParsedStudy): StudyModel {
  const { name, invented, notice, description, questions } = parsed;
  return {
    name,
    invented,
    notice,
    description,
    tracerPath: parsed.tracer,
    scannerPath: parsed.scanner,
    protocolPath: parsed.protocol,
    scans: parsed.scans.map(toScan),
    calibration: toCalibration(parsed.calibration),
    regions: parsed.regions.map(toRegion),
    questions,
    advisories: notice === undefined ? [] : [notice],
  };
}

function toScan({ name, role, phantom, recorded, seed }: ParsedScan): StudyScan {
  if (recorded !== undefined) return { name, role, source: { kind: "recorded", dataPath: recorded } };
  // The schema has made sure that every simulated scan states its seed.
  if (phantom === undefined) return { name, role, source: { kind: "nothing", seed: seed! } };
  return { name, role, source: { kind: "phantom", phantomPath: phantom, seed: seed! } };
}

function toCalibration(parsed: ParsedStudy["calibration"]): StudyCalibration | undefined {
  if (parsed === undefined) return undefined;
  const vials = parsed.vials.map(({ label, ironMass, standardUncertainty, scan }) => ({
    label,
    ironMass_kg: ironMass,
    standardUncertainty_kg: standardUncertainty,
    scan,
  }));
  return { vials, stockAssayRelativeUncertainty: parsed.stockAssayRelativeUncertainty };
}

function toRegion({ label, shape }: ParsedStudy["regions"][number]): StudyRegion {
  return shape.kind === "sphere"
    ? { label, shape: { kind: "sphere", center_m: shape.center, diameter_m: shape.diameter } }
    : { label, shape: { kind: "box", center_m: shape.center, size_m: shape.size } };
}
