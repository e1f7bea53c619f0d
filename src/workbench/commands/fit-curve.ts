import { existsSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import type { TracerDocument } from "../../documents/index.js";
import { FerruleError } from "../../errors.js";
import { curveFitFigure, type Figure } from "../../figures/index.js";
import { parseCurveDescriptor, readCurve } from "../../formats/index.js";
import { type CurveFit, curveBases, evaluateFit, fitLogNormal, type MagnetisationCurve } from "../../measure/index.js";
import { canonicalHash } from "../store/canonical-json.js";
import { contentHash } from "../store/content-hash.js";
import { decodeTextInput, readInput } from "../store/read-input.js";
import { requireMaterial, tracerFromFit } from "./tracer-from-fit.js";

export interface FitCurveRequest {
  readonly file: string;
  /** By default FILE.descriptor.json or descriptor.json beside the file, when one is there. */
  readonly descriptor?: string;
}

export interface FittedCurve {
  readonly curve: MagnetisationCurve;
  readonly fit: CurveFit;
  /** The tracer document that the fit gives, or `null` where the fit does not give one. */
  readonly tracer: TracerDocument | null;
  /** Why there is no tracer; empty where there is one. */
  readonly withheld: readonly string[];
  readonly inputs: readonly { readonly name: string; readonly file: string; readonly sha256: string }[];
}

/** A measured magnetisation curve -> log-normal Langevin fit -> tracer document. Reads files, writes none. */
export function fitCurve({ file, descriptor }: FitCurveRequest): FittedCurve {
  const bytes = readInput(file);
  const descriptorFile = descriptor ?? descriptorBeside(file);
  const descriptorBytes = descriptorFile === undefined ? undefined : readInput(descriptorFile);
  const facts =
    descriptorFile === undefined || descriptorBytes === undefined
      ? undefined
      : parseCurveDescriptor(decodeTextInput(descriptorBytes, descriptorFile), { file: descriptorFile });
  const curve = readCurve(bytes, facts, { file, descriptorFile });
  const fit = placeErrors(
    () => {
      requireMaterial(curve); // before the fit: it would be for nothing
      return fitLogNormal(curve);
    },
    { file, descriptorFile },
  );
  const inputs = [
    { name: "curve", file: basename(file), sha256: contentHash(bytes) },
    ...(descriptorFile === undefined || descriptorBytes === undefined
      ? []
      : [{ name: "descriptor", file: basename(descriptorFile), sha256: contentHash(descriptorBytes) }]),
  ];
  return { curve, fit, inputs, ...tracerFromFit(curve, fit, inputs) };
}

function descriptorBeside(file: string): string | undefined {
  return [`${file}.descriptor.json`, join(dirname(file), "descriptor.json")].find((candidate) => existsSync(candidate));
}

/** The tracer that a fit gives, for those who cannot go on without one. */
export function tracerOf({ tracer, withheld }: FittedCurve, file: string): TracerDocument {
  if (tracer !== null) return tracer;
  throw new FerruleError("NotIdentifiable", {
    file,
    found: `a curve whose fit gives no tracer: ${withheld.join("; ")}`,
    accepted: "a curve that shows its rise and its saturation, or a tracer document of your own",
  });
}

/** A missing or unusable fact is the descriptor's; anything else is in the numbers, and these are the table's. */
function placeErrors<T>(work: () => T, { file, descriptorFile = file }: { file: string; descriptorFile?: string }): T {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof FerruleError)) throw error;
    throw error.at({ file: error.place.path?.startsWith("facts.") ? descriptorFile : file });
  }
}

/** The figure of a fit: data with error bars, the fitted line, residuals below. */
export function figureOfFit({ curve, fit }: FittedCurve): Promise<Figure> {
  const fields = fineFields(curve.field_T);
  const assumed = curve.assumptions.some(({ fact }) => fact === "basis" || fact === "magnetisationUnit");
  return curveFitFigure({
    title: curve.name,
    subtitle: `log-normal Langevin fit, ${goodnessWords(fit)}`,
    field_T: curve.field_T,
    magnetisation: curve.magnetisation,
    sigma: curve.sigma,
    fitted: fit.fitted,
    line: { field_T: fields, magnetisation: evaluateFit(fit, curve, fields) },
    magnetisationUnit: curve.magnetisationUnit,
    basis: `${curveBases[curve.basis].summary}${assumed ? " (assumed)" : ""}`,
  });
}

/** chi2/dof, where there is a sd column for it to mean something. */
export function goodnessWords({ uncertaintyBasis, reducedChiSquared }: CurveFit): string {
  if (uncertaintyBasis === "stated-sigma") return `reduced chi-squared ${reducedChiSquared.toPrecision(3)}`;
  return "no sd column (uncertainties from the scatter)";
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

/**
 * The fit as the JSON document that `--json` prints and `fit.json` holds. `contentDigest` is the SHA-256 of the canonical
 * JSON of all the rest: what a publication cites.
 */
export function fitDocument(fitted: FittedCurve) {
  const content = fitContent(fitted);
  // Through JSON text first: a value that is not determined is null there, and canonical JSON has no NaN.
  return { ...content, contentDigest: canonicalHash(JSON.parse(JSON.stringify(content))) };
}

function fitContent({ curve, fit, inputs, withheld }: FittedCurve) {
  return {
    schema: "urn:ferrule:fit:1",
    model: fit.model,
    equation: fit.equation,
    weighting: fit.weighting,
    parameters: fit.parameters,
    derived: fit.derived,
    correlation: squareRows(fit.correlation, fit.parameters.length),
    covariance: squareRows(fit.covariance, fit.parameters.length),
    uncertaintyBasis: fit.uncertaintyBasis,
    reducedChiSquared: fit.reducedChiSquared,
    degreesOfFreedom: fit.degreesOfFreedom,
    residuals: [...fit.residuals],
    runsTest: fit.runsTest,
    lag1: fit.lag1,
    modelInadequacy: fit.modelInadequacy,
    residualScale: fit.residualScale,
    notIdentifiable: fit.notIdentifiable,
    tracerWithheld: withheld,
    outcome: fit.outcome,
    reason: fit.reason,
    basis: curve.basis,
    assumptions: curve.assumptions,
    findings: curve.findings,
    advisories: fit.advisories,
    provenance: { method: "log-normal-langevin", methodVersion: 2, inputs },
    caution: "Research use; not a medical device.",
  };
}

function squareRows(matrix: Float64Array, n: number): number[][] {
  return Array.from({ length: n }, (_, i) => [...matrix.subarray(i * n, (i + 1) * n)]);
}
