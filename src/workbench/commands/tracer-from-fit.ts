import { parseDocument, type TracerDocument } from "../../documents/index.js";
import { FerruleError, isKnownError } from "../../errors.js";
import type { CurveFit, MagnetisationCurve } from "../../measure/index.js";
import { coreMaterials } from "../../physics/index.js";

/** A tracer, or why the fit gives none. */
export interface TracerOfFit {
  readonly tracer: TracerDocument | null;
  readonly withheld: readonly string[];
}

type Inputs = readonly { readonly name: string; readonly file: string; readonly sha256: string }[];

/**
 * The tracer that a fit of a magnetisation curve gives, or the reasons to give none: a tracer document is believed by
 * everything below it, so a number that the data do not determine must not become one.
 */
export function tracerFromFit(curve: MagnetisationCurve, fit: CurveFit, inputs: Inputs): TracerOfFit {
  const withheld = reasonsToWithhold(fit);
  if (withheld.length > 0) return { tracer: null, withheld };
  const tracer = tracerDocument(curve, fit, inputs);
  try {
    parseDocument(JSON.stringify(tracer), { family: "tracer" });
    return { tracer, withheld };
  } catch (error) {
    if (!isKnownError(error)) throw error;
    return { tracer: null, withheld: [`the tracer document would not be valid: ${error.message}`] };
  }
}

/** The parameters that make a tracer; a background slope that floats does no harm. */
const tracerParameters = ["saturation", "median-diameter", "log-sd"];

function reasonsToWithhold({ outcome, reason, parameters, notIdentifiable }: CurveFit): string[] {
  const needed = parameters.filter(({ name }) => tracerParameters.includes(name));
  const floating = needed.filter(({ name }) => notIdentifiable.includes(name)).map(({ name }) => name);
  const flipped = (name: string, value: number) =>
    name === "saturation" && value === 0 ? "; does the magnetisation have the opposite sign of the field?" : "";
  return [
    ...(outcome === "converged" ? [] : [`the fit ended early (${outcome}): ${reason}`]),
    ...(floating.length === 0 ? [] : [`the data do not determine ${floating.join(", ")}`]),
    ...needed
      .filter(({ atBound }) => atBound)
      .map(({ name, value }) => `${name} ended at its bound (${value.toPrecision(4)})${flipped(name, value)}`),
  ];
}

/**
 * The document (urn:ferrule:tracer:1). What the curve's file did not state goes along as assumptions, and from there
 * into every answer made with the tracer.
 */
function tracerDocument(curve: MagnetisationCurve, fit: CurveFit, inputs: Inputs): TracerDocument {
  const [saturation, diameter, logSd] = ["saturation", "median-diameter", "log-sd"].map((name) => parameter(fit, name));
  const material = requireMaterial(curve);
  const perIron = momentPerIron(curve, saturation.value, material.ironMassFraction);
  const known = Number.isFinite(diameter.standardUncertainty) && Number.isFinite(logSd.standardUncertainty);
  return {
    schema: "urn:ferrule:tracer:1",
    name: curve.name,
    origin: {
      kind: "fitted",
      note: `log-normal Langevin fit of ${curve.field_T.length} points, ${fit.uncertaintyBasis === "stated-sigma" ? `reduced chi-squared ${fit.reducedChiSquared.toPrecision(3)}` : "no sd column"}`,
    },
    core: {
      material: material.name,
      saturation: `${curve.coreSaturation_A_per_m} A/m`,
      density: `${material.density_kg_per_m3} kg/m3`,
      ironMassFraction: `${material.ironMassFraction * 100} %`,
      ...(perIron === undefined ? {} : { momentPerIron: `${perIron} A.m2/kg` }),
      sizes: {
        kind: "lognormal",
        weighting: "number",
        medianDiameter: `${diameter.value * 1e9} nm`,
        logSd: logSd.value,
      },
    },
    ...(known
      ? {
          uncertainties: {
            medianDiameter: `${diameter.standardUncertainty * 1e9} nm`,
            logSd: logSd.standardUncertainty,
            medianLogSdCorrelation: correlationOf(fit, "median-diameter", "log-sd"),
          },
        }
      : {}),
    cautions: fit.advisories
      .filter(({ code }) => code !== "assumed-fact" && code !== "file-finding")
      .map(({ message }) => message),
    relaxation: { kind: "none" },
    environment: { medium: "other", temperature: `${curve.temperature_K} K` },
    assumptions: [
      ...curve.assumptions,
      ...(perIron === undefined
        ? [
            {
              fact: "moment per kg Fe",
              value: "core saturation over density and iron mass fraction",
              note: `the curve is given ${curve.basis}, which does not fix it`,
            },
          ]
        : []),
      {
        fact: "relaxation",
        value: "none",
        note: "a static curve says nothing about it: widths are static, lower bounds",
      },
    ],
    provenance: {
      inputs: inputs.map(({ file, sha256 }) => ({ name: file, sha256 })),
      method: "log-normal-langevin fit",
      version: "2",
    },
  };
}

function parameter(fit: CurveFit, name: string) {
  const found = fit.parameters.find((candidate) => candidate.name === name);
  if (found === undefined) throw new Error(`the fit has no parameter ${name}`);
  return found;
}

function correlationOf(fit: CurveFit, a: string, b: string): number {
  const [i, j] = [a, b].map((name) => fit.parameters.findIndex((candidate) => candidate.name === name));
  return Math.max(-1, Math.min(1, fit.correlation[i * fit.parameters.length + j]));
}

/** Density and iron fraction of a core material that we know; another is asked for. */
export function requireMaterial(curve: MagnetisationCurve) {
  const name = curve.coreMaterial;
  if (name === "magnetite" || name === "maghemite") return { name, ...coreMaterials[name] } as const;
  throw new FerruleError("MissingFact", {
    path: "facts.coreMaterial",
    found: name === undefined ? "no core material" : `core material "${name}"`,
    accepted:
      'magnetite or maghemite, whose density and iron fraction are known, e.g. { "value": "magnetite", "status": "assumed", "note": "why" }',
  });
}

/** Measured saturation per kg of Fe, where what the curve is divided by fixes it. */
function momentPerIron(curve: MagnetisationCurve, saturation: number, ironMassFraction: number): number | undefined {
  if (curve.basis === "per-iron-mass") return saturation;
  if (curve.basis === "per-oxide-mass") return saturation / ironMassFraction;
  return undefined;
}
