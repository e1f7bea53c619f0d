import { existsSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { FerruleError } from "../../errors.js";
import { curveFitFigure, type Figure } from "../../figures/index.js";
import { type CurveDescriptor, parseCurveDescriptor, readCurve } from "../../formats/index.js";
import { type CurveFit, curveBases, evaluateFit, fitLogNormal, type MagnetisationCurve } from "../../measure/index.js";
import { contentHash } from "../store/content-hash.js";
import { readInput, readTextInput } from "../store/read-input.js";
import { tracerFromFit } from "./tracer-from-fit.js";

export interface FitCurveRequest {
  readonly file: string;
  /** By default FILE.descriptor.json or descriptor.json beside the file, when one is there. */
  readonly descriptor?: string;
}

export interface FittedCurve {
  readonly curve: MagnetisationCurve;
  readonly fit: CurveFit;
  /** The tracer document that the fit gives. */
  readonly tracer: Readonly<Record<string, unknown>>;
  readonly inputs: readonly { readonly name: string; readonly file: string; readonly sha256: string }[];
}

/** A measured magnetisation curve -> log-normal Langevin fit -> tracer document. Reads files, writes none. */
export function fitCurve({ file, descriptor }: FitCurveRequest): FittedCurve {
  const bytes = readInput(file);
  const descriptorFile = descriptor ?? descriptorBeside(file);
  const facts: CurveDescriptor | undefined =
    descriptorFile === undefined
      ? undefined
      : parseCurveDescriptor(readTextInput(descriptorFile), { file: descriptorFile });
  const curve = readCurve(bytes, facts, { file });
  const fit = placeErrors(() => fitLogNormal(curve), descriptorFile ?? file);
  const inputs = [
    { name: "curve", file: basename(file), sha256: contentHash(bytes) },
    ...(descriptorFile === undefined
      ? []
      : [{ name: "descriptor", file: basename(descriptorFile), sha256: contentHash(readInput(descriptorFile)) }]),
  ];
  return { curve, fit, tracer: tracerFromFit(curve, fit, inputs), inputs };
}

function descriptorBeside(file: string): string | undefined {
  return [`${file}.descriptor.json`, join(dirname(file), "descriptor.json")].find((candidate) => existsSync(candidate));
}

function placeErrors<T>(work: () => T, file: string): T {
  try {
    return work();
  } catch (error) {
    throw error instanceof FerruleError ? error.at({ file }) : error;
  }
}

/** The figure of a fit: data with error bars, the fitted line, residuals below. */
export function figureOfFit({ curve, fit }: FittedCurve): Promise<Figure> {
  const fields = fineFields(curve.field_T);
  const assumed = curve.assumptions.some(({ fact }) => fact === "basis" || fact === "magnetisationUnit");
  return curveFitFigure({
    title: curve.name,
    subtitle: `log-normal Langevin fit, reduced chi-squared ${fit.reducedChiSquared.toFixed(2)}`,
    field_T: curve.field_T,
    magnetisation: curve.magnetisation,
    sigma: curve.sigma,
    fitted: fit.fitted,
    line: { field_T: fields, magnetisation: evaluateFit(fit, curve, fields) },
    magnetisationUnit: curve.magnetisationUnit,
    basis: `${curveBases[curve.basis].summary}${assumed ? " (assumed)" : ""}`,
  });
}

/** 400 fields spread evenly over the logarithm of the magnitude, on the sides that were measured. */
function fineFields(field_T: Float64Array): Float64Array {
  const magnitudes = field_T.map(Math.abs).filter((value) => value > 0);
  const low = magnitudes.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
  const high = magnitudes.reduce((a, b) => Math.max(a, b), 0);
  const side = Array.from({ length: 400 }, (_, i) => low * (high / low) ** (i / 399));
  const negative = field_T.some((value) => value < 0) ? side.map((value) => -value).reverse() : [];
  const positive = field_T.some((value) => value > 0) ? side : [];
  return Float64Array.from([...negative, ...positive]);
}

/** The fit as the JSON document that `--json` prints and `fit.json` holds. */
export function fitDocument({ curve, fit, inputs }: FittedCurve) {
  return {
    schema: "urn:ferrule:fit:1",
    model: fit.model,
    equation: fit.equation,
    weighting: fit.weighting,
    parameters: fit.parameters,
    derived: fit.derived,
    correlation: squareRows(fit.correlation, fit.parameters.length),
    covariance: squareRows(fit.covariance, fit.parameters.length),
    reducedChiSquared: fit.reducedChiSquared,
    degreesOfFreedom: fit.degreesOfFreedom,
    residuals: [...fit.residuals],
    runsTest: fit.runsTest,
    lag1: fit.lag1,
    modelInadequacy: fit.modelInadequacy,
    residualScale: fit.residualScale,
    notIdentifiable: fit.notIdentifiable,
    outcome: fit.outcome,
    reason: fit.reason,
    basis: curve.basis,
    assumptions: curve.assumptions,
    findings: curve.findings,
    advisories: fit.advisories,
    provenance: { method: "log-normal-langevin", methodVersion: 1, inputs },
    caution: "Research use; not a medical device.",
  };
}

function squareRows(matrix: Float64Array, n: number): number[][] {
  return Array.from({ length: n }, (_, i) => [...matrix.subarray(i * n, (i + 1) * n)]);
}
