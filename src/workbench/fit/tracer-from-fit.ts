import { parseDocument, type TracerDocument } from "../../documents/index.js";
import { FerruleError, isKnownError } from "../../errors.js";
import type { Measurement } from "../../formats/index.js";
import type { TracerFit } from "../../measure/index.js";
import { coreMaterials } from "../../physics/index.js";
import { fitMethods } from "./fit-methods.js";
import { factsOf, type MeasuredFacts } from "./measured-facts.js";
import type { FitInput } from "./read-measurements.js";
import { couplingOfFit, relaxationOfFit, sizesDocument, uncertaintiesDocument } from "./tracer-parts.js";

/** A tracer, or why the fit gives none. */
export interface TracerOfFit {
  readonly tracer: TracerDocument | null;
  readonly withheld: readonly string[];
}

/**
 * The tracer that a fit gives, or the reasons to give none: a tracer document is believed by everything below it, so a
 * number that the data do not determine must not become one.
 */
export function tracerFromFit(
  measurements: readonly Measurement[],
  fit: TracerFit,
  inputs: readonly FitInput[],
): TracerOfFit {
  const facts = factsOf(measurements);
  const withheld = [...reasonsToWithhold(fit), ...missingFacts(fit, facts)];
  if (withheld.length > 0) return { tracer: null, withheld };
  const tracer = tracerDocument(facts, fit, inputs);
  try {
    parseDocument(JSON.stringify(tracer), { family: "tracer" });
    return { tracer, withheld };
  } catch (error) {
    if (!isKnownError(error)) throw error;
    return { tracer: null, withheld: [`the tracer document would not be valid: ${error.message}`] };
  }
}

/** A background that floats does no harm to a tracer; neither does the scale of one instrument of several. */
const isTracerParameter = (name: string): boolean => !/background|susceptibility|-of-\d+$/.test(name);

/** A bound that is a sound value: no coupling, and in a chain of equal cores no width. */
const isSoundAtBound = (name: string, value: number): boolean =>
  (name === "coupling" && value === 0) || (name === "log-sd" && value === 0);

/** A diameter in nm, a time in us. */
const shownBound = (value: number, unit: string): string =>
  unit === "m"
    ? `${(value * 1e9).toPrecision(4)} nm`
    : unit === "s"
      ? `${(value * 1e6).toPrecision(4)} us`
      : value.toPrecision(4);

/** Misses of five stated standard deviations on average are no noise. */
const refutedBy = 25;

function reasonsToWithhold(fit: TracerFit): string[] {
  const { model, outcome, reason, parameters, notIdentifiable } = fit;
  const needed = parameters.filter(({ name }) => isTracerParameter(name));
  const floating = needed.filter(({ name }) => notIdentifiable.includes(name)).map(({ name }) => name);
  const hint = (name: string, value: number) => {
    if (name === "saturation" && value === 0) return "; does the magnetisation have the opposite sign of the field?";
    return name === "log-sd" && model === "mean-field-chain" && value < 0.01 ? "; fit equal cores (chain-single)" : "";
  };
  return [
    ...(outcome === "converged" ? [] : [`the fit ended early (${outcome}): ${reason}`]),
    ...(fit.uncertaintyBasis === "stated-sigma" && fit.reducedChiSquared > refutedBy
      ? [
          `the data refute the model: chi2/dof is ${fit.reducedChiSquared.toPrecision(3)}, misses of ${Math.sqrt(fit.reducedChiSquared).toPrecision(2)} stated standard deviations`,
        ]
      : []),
    ...(floating.length === 0 ? [] : [`the data do not determine ${floating.join(", ")}`]),
    ...needed
      .filter(({ name, value, atBound }) => atBound && !isSoundAtBound(name, value))
      .map(({ name, value, unit }) => `${name} ended at its bound (${shownBound(value, unit)})${hint(name, value)}`),
  ];
}

function missingFacts(fit: TracerFit, facts: MeasuredFacts): string[] {
  const { coreMaterial, coreSaturation_A_per_m, temperature_K } = facts;
  if (!("distribution" in fit) && !fit.parameters.some(({ name }) => name === "median-diameter"))
    return ["a susceptibility alone holds no core sizes: fit it together with a curve or a spectrum"];
  const isKnown = coreMaterial === "magnetite" || coreMaterial === "maghemite";
  return [
    ...(isKnown ? [] : ["the core material is not known to be magnetite or maghemite (facts.coreMaterial)"]),
    ...(coreSaturation_A_per_m === undefined ? ["no core saturation (facts.coreSaturation)"] : []),
    ...(temperature_K === undefined ? ["no temperature (facts.temperature)"] : []),
  ];
}

/**
 * The document (urn:ferrule:tracer:1). What the files did not state goes along as assumptions, and from there into every
 * answer made with the tracer.
 */
function tracerDocument(facts: MeasuredFacts, fit: TracerFit, inputs: readonly FitInput[]): TracerDocument {
  const material = requireMaterial(facts);
  const saturation = fit.parameters.find(({ name }) => /^saturation(-of-1)?$/.test(name))?.value;
  const perIron = momentPerIron(facts.basis, saturation, material.ironMassFraction);
  const relaxation = relaxationOfFit(fit, facts);
  const coupling = couplingOfFit(fit);
  const { method, version, words } = fitMethods(fit.model);
  const uncertainties = uncertaintiesDocument(fit, facts);
  return {
    schema: "urn:ferrule:tracer:1",
    name: facts.name,
    origin: {
      kind: "fitted",
      note: `${words} of ${facts.points} points, ${fit.uncertaintyBasis === "stated-sigma" ? `reduced chi-squared ${fit.reducedChiSquared.toPrecision(3)}` : "no sd column"}`,
    },
    core: {
      material: material.name,
      saturation: `${facts.coreSaturation_A_per_m} A/m`,
      density: `${material.density_kg_per_m3} kg/m3`,
      ironMassFraction: `${material.ironMassFraction * 100} %`,
      ...(perIron === undefined ? {} : { momentPerIron: `${perIron} A.m2/kg` }),
      sizes: sizesDocument(fit),
    },
    ...(uncertainties === undefined ? {} : { uncertainties }),
    cautions: [
      ...fit.advisories
        .filter(({ code }) => code !== "assumed-fact" && code !== "file-finding")
        .map(({ message }) => message),
      ...(fit.withInadequacy.scale > 1
        ? [
            `its uncertainties are ${fit.withInadequacy.scale.toPrecision(3)} times the statistical ones, for what the model misses`,
          ]
        : []),
    ],
    ...(coupling === undefined ? {} : { coupling }),
    relaxation,
    environment: { medium: facts.medium, temperature: `${facts.temperature_K} K` },
    assumptions: [
      ...facts.assumptions.map(({ fact, value, note }) => ({ fact, value, note })),
      ...(perIron === undefined
        ? [
            {
              fact: "moment per kg Fe",
              value: "core saturation over density and iron mass fraction",
              note: `the data are given ${facts.basis ?? "without a basis"}, which does not fix it`,
            },
          ]
        : []),
      ...(relaxation.kind === "none"
        ? [
            {
              fact: "relaxation",
              value: "none",
              note: "a static curve says nothing about it: widths are static, lower bounds",
            },
          ]
        : []),
    ],
    provenance: {
      inputs: inputs.map(({ file, sha256 }) => ({ name: file, sha256 })),
      method: `${method} fit`,
      version: String(version),
    },
  };
}

/** Density and iron fraction of a core material that we know; another is asked for. */
export function requireMaterial({ coreMaterial: name }: { readonly coreMaterial?: string | undefined }) {
  if (name === "magnetite" || name === "maghemite") return { name, ...coreMaterials[name] } as const;
  throw new FerruleError("MissingFact", {
    path: "facts.coreMaterial",
    found: name === undefined ? "no core material" : `core material "${name}"`,
    accepted:
      'magnetite or maghemite, whose density and iron fraction are known, e.g. { "value": "magnetite", "status": "assumed", "note": "why" }',
  });
}

/** Measured saturation per kg of Fe, where what the data are divided by fixes it. */
function momentPerIron(
  basis: string | undefined,
  saturation: number | undefined,
  ironMassFraction: number,
): number | undefined {
  if (saturation === undefined) return undefined;
  if (basis === "per-iron-mass") return saturation;
  if (basis === "per-oxide-mass") return saturation / ironMassFraction;
  return undefined;
}
