import type { StateName } from "../tracer/tracer-state.js";
import type { Question } from "./question-field.js";
import { type ReconstructionSettings, toReconstruction } from "./reconstruction-field.js";
import { type RegionShapeModel, toRegionShape } from "./region-shape.js";
import type { ParsedScan } from "./scan-field.js";
import { type SimulationSettings, toSimulation } from "./simulation-field.js";
import type { ParsedStudy } from "./study-schema.js";

/** A study in SI. Paths are relative to the study document's folder. */
export interface StudyModel {
  readonly name: string;
  readonly invented: boolean;
  readonly notice?: string | undefined;
  readonly description?: string | undefined;
  readonly tracer:
    | { readonly kind: "document"; readonly path: string }
    | { readonly kind: "curve"; readonly curvePath: string; readonly descriptorPath?: string | undefined };
  readonly comparisonTracerPaths: readonly string[];
  readonly scannerPath: string;
  readonly protocolPath: string;
  readonly scans: readonly StudyScan[];
  readonly calibration?: StudyCalibration | undefined;
  readonly simulation?: SimulationSettings | undefined;
  readonly reconstruction?: ReconstructionSettings | undefined;
  readonly regions: readonly StudyRegion[];
  readonly questions: readonly Question[];
  readonly advisories: readonly string[];
}

export interface StudyScan {
  readonly name: string;
  readonly role: ParsedScan["role"];
  /** What the tracer was in; absent: not stated. */
  readonly state?: StateName | undefined;
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
  readonly contour: RegionShapeModel;
}

export interface StudyRegion {
  readonly label: string;
  readonly shape: RegionShapeModel;
}

export function toStudyModel(parsed: ParsedStudy): StudyModel {
  const { name, invented, notice, description, questions } = parsed;
  return {
    name,
    invented,
    notice,
    description,
    tracer: toTracer(parsed),
    comparisonTracerPaths: parsed.comparisonTracers ?? [],
    scannerPath: parsed.scanner,
    protocolPath: parsed.protocol,
    scans: parsed.scans.map(toScan),
    calibration: toCalibration(parsed.calibration),
    simulation: parsed.simulation === undefined ? undefined : toSimulation(parsed.simulation),
    reconstruction: parsed.reconstruction === undefined ? undefined : toReconstruction(parsed.reconstruction),
    regions: parsed.regions.map(toRegion),
    questions,
    advisories: notice === undefined ? [] : [notice],
  };
}

function toScan(parsed: ParsedScan): StudyScan {
  const { name, role, state } = parsed;
  return {
    name,
    role,
    state: state === undefined ? undefined : { medium: state.medium, temperature_K: state.temperature },
    source: toSource(parsed),
  };
}

function toSource({ phantom, recorded, seed }: ParsedScan): StudyScan["source"] {
  if (recorded !== undefined) return { kind: "recorded", dataPath: recorded };
  // The schema has made sure that every simulated scan states its seed.
  return phantom === undefined
    ? { kind: "nothing", seed: seed! }
    : { kind: "phantom", phantomPath: phantom, seed: seed! };
}

function toCalibration(parsed: ParsedStudy["calibration"]): StudyCalibration | undefined {
  if (parsed === undefined) return undefined;
  const vials = parsed.vials.map(({ label, ironMass, standardUncertainty, scan }) => ({
    label,
    ironMass_kg: ironMass,
    standardUncertainty_kg: standardUncertainty,
    scan,
  }));
  return {
    vials,
    stockAssayRelativeUncertainty: parsed.stockAssayRelativeUncertainty,
    contour: toRegionShape(parsed.contour),
  };
}

function toRegion({ label, shape }: ParsedStudy["regions"][number]): StudyRegion {
  return { label, shape: toRegionShape(shape) };
}

/** The schema has made sure that exactly one of the two is there. */
function toTracer({ tracer, tracerCurve }: ParsedStudy): StudyModel["tracer"] {
  if (tracerCurve === undefined) return { kind: "document", path: tracer! };
  return { kind: "curve", curvePath: tracerCurve.curve, descriptorPath: tracerCurve.descriptor };
}
