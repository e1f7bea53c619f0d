import type { TracerFit } from "../../measure/index.js";
import { canonicalHash } from "../store/canonical-json.js";
import type { FittedTracer } from "./fit-measurements.js";
import { fitMethods } from "./fit-methods.js";
import { factsOf } from "./measured-facts.js";

/**
 * The fit as the JSON document that `--json` prints and `fit.json` holds. `contentDigest` is the SHA-256 of the canonical
 * JSON of all the rest: what a publication cites.
 */
export function fitDocument(fitted: FittedTracer) {
  const content = fitContent(fitted);
  // Through JSON text first: a value that is not determined is null there, and canonical JSON has no NaN.
  return { ...content, contentDigest: canonicalHash(JSON.parse(JSON.stringify(content))) };
}

function fitContent({ name, measurements, fit, inputs, withheld }: FittedTracer) {
  const { method, version: methodVersion } = fitMethods(fit.model);
  const { assumptions } = factsOf(measurements);
  const findings = measurements.flatMap(findingsOf);
  const [first] = measurements;
  return {
    schema: "urn:ferrule:fit:1" as const,
    name,
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
    withInadequacy: fit.withInadequacy,
    outliers: fit.outliers,
    notIdentifiable: fit.notIdentifiable,
    ...extrasOf(fit),
    tracerWithheld: withheld,
    outcome: fit.outcome,
    reason: fit.reason,
    ...(measurements.length === 1 && first.kind === "curve" ? { basis: first.curve.basis } : {}),
    assumptions,
    findings,
    advisories: fit.advisories,
    provenance: { method, methodVersion, inputs },
    caution: "Research use; not a medical device.",
  };
}

function findingsOf(measurement: FittedTracer["measurements"][number]): readonly string[] {
  if (measurement.kind === "curve") return measurement.curve.findings;
  return measurement.kind === "harmonics" ? measurement.spectrum.findings : measurement.susceptibility.findings;
}

/** What one model has and others have not. Long arrays become plain ones. */
const extras = [
  "branches",
  "comparison",
  "shareWeighting",
  "distribution",
  "regularisation",
  "ranges",
  "replicas",
  "seed",
  "isHysteretic",
  "shared",
  "instruments",
  "tension",
] as const;

function extrasOf(fit: TracerFit): Record<string, unknown> {
  const entries = Object.entries(fit).filter(([name]) => (extras as readonly string[]).includes(name));
  return Object.fromEntries(entries.map(([name, value]) => [name, plain(value)]));
}

function plain(value: unknown): unknown {
  if (ArrayBuffer.isView(value)) return Array.from(value as Float64Array);
  if (Array.isArray(value)) return value.map(plain);
  if (value === null || typeof value !== "object") return value;
  return Object.fromEntries(Object.entries(value).map(([name, part]) => [name, plain(part)]));
}

function squareRows(matrix: Float64Array, n: number): number[][] {
  return Array.from({ length: n }, (_, i) => [...matrix.subarray(i * n, (i + 1) * n)]);
}
