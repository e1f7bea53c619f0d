import type { TracerDocument } from "../../documents/index.js";
import { FerruleError } from "../../errors.js";
import type { Measurement } from "../../formats/index.js";
import {
  type CurveFit,
  fitChain,
  fitJoint,
  fitLogNormal,
  fitMixture,
  fitSusceptibility,
  freeFormSteps,
  harmonicsSteps,
  type Instrument,
  type TracerFit,
} from "../../measure/index.js";
import { finishSteps, type Steps } from "../../numerics/index.js";
import { curveModelOf, type FitChoice, refuseIdleOptions, relaxationOf } from "./fit-choice.js";
import { factsOf } from "./measured-facts.js";
import { type FitInput, type MeasuredFile, placeErrors, readMeasuredFile } from "./read-measurements.js";
import { requireMaterial, tracerFromFit } from "./tracer-from-fit.js";

export interface FitRequest extends FitChoice {
  /** One measurement, or several of one tracer for a joint fit. */
  readonly files: readonly string[];
  /** In the order of the files; by default FILE.descriptor.json or descriptor.json beside each. */
  readonly descriptors?: readonly string[] | undefined;
}

export interface FittedTracer {
  /** Of the measurements, joined. */
  readonly name: string;
  readonly measurements: readonly Measurement[];
  readonly fit: TracerFit | CurveFit;
  /** The tracer document that the fit gives, or `null` where the fit does not give one. */
  readonly tracer: TracerDocument | null;
  /** Why there is no tracer; empty where there is one. */
  readonly withheld: readonly string[];
  readonly inputs: readonly FitInput[];
}

/** Measurements of one tracer -> fit -> tracer document. Reads files, writes none. */
export function* fitSteps(request: FitRequest): Steps<FittedTracer> {
  const { files, descriptors = [] } = request;
  if (files.length === 0)
    throw new FerruleError("MissingFact", { found: "no file", accepted: "at least one measured file" });
  if (descriptors.length > files.length)
    throw new FerruleError("InvalidValue", {
      path: "--descriptor",
      found: `${descriptors.length} descriptors for ${files.length} files`,
      accepted: "one descriptor for each file, in their order",
    });
  const measured = files.map((file, i) => readMeasuredFile(file, descriptors[i]));
  refuseTwice(measured);
  const measurements = measured.map(({ measurement }) => measurement);
  refuseIdleOptions(
    measurements.map(({ kind }) => kind),
    request,
  );
  yield 0.05;
  const fit = measured.length === 1 ? yield* fitOne(measured[0], request) : fitTogether(measured, request);
  const inputs = measured.flatMap((each) => each.inputs);
  return { name: factsOf(measurements).name, measurements, fit, inputs, ...tracerFromFit(measurements, fit, inputs) };
}

/** One file given twice would count its noise as two measurements. */
function refuseTwice(measured: readonly MeasuredFile[]): void {
  const hashes = measured.map(({ inputs }) => inputs[0].sha256);
  const twice = hashes.findIndex((hash, i) => hashes.indexOf(hash) !== i);
  if (twice < 0) return;
  throw new FerruleError("Conflict", {
    file: measured[twice].file,
    found: "the same numbers as in another of the files",
    accepted: "each measurement once",
  });
}

/** `fitSteps` run to its end. */
export function fitMeasurements(request: FitRequest): FittedTracer {
  return finishSteps(fitSteps(request));
}

function* fitOne(measured: MeasuredFile, choice: FitChoice): Steps<TracerFit> {
  const { measurement } = measured;
  if (measurement.kind === "harmonics") {
    const relaxation = relaxationOf(measurement, choice);
    return yield* placedSteps(() => harmonicsSteps(measurement.spectrum, { relaxation }), measured);
  }
  if (measurement.kind === "curve" && curveModelOf(choice) === "free-form")
    return yield* placedSteps(() => {
      requireMaterial(measurement.curve);
      return freeFormSteps(measurement.curve);
    }, measured);
  return placeErrors(() => fitAlone(measurement, choice), measured);
}

/** Steps whose refusals are told with the file to blame. */
function* placedSteps(begin: () => Steps<TracerFit>, measured: MeasuredFile): Steps<TracerFit> {
  const steps = placeErrors(begin, measured);
  for (;;) {
    const { done, value } = placeErrors(() => steps.next(), measured);
    if (done) return value as TracerFit;
    yield 0.05 + 0.9 * (value as number);
  }
}

function fitAlone(measurement: Exclude<Measurement, { kind: "harmonics" }>, choice: FitChoice): TracerFit {
  if (measurement.kind === "susceptibility")
    return fitSusceptibility(measurement.susceptibility, { model: susceptibilityModelOf(measurement, choice) });
  requireMaterial(measurement.curve); // before the fit: it would be for nothing
  return fitCurve(measurement.curve, choice);
}

function fitCurve(curve: Extract<Measurement, { kind: "curve" }>["curve"], choice: FitChoice): CurveFit {
  switch (curveModelOf(choice)) {
    case "mixture":
      return fitMixture(curve, { populations: 2 });
    case "mixture-3":
      return fitMixture(curve, { populations: 3 });
    case "chain":
      return fitChain(curve);
    case "chain-single":
      return fitChain(curve, { cores: "single" });
    default:
      return fitLogNormal(curve);
  }
}

function susceptibilityModelOf(measurement: Measurement, choice: FitChoice) {
  return relaxationOf(measurement, choice) === "brownian" ? "brown-log-normal" : "debye";
}

function fitTogether(measured: readonly MeasuredFile[], choice: FitChoice): TracerFit {
  return fitJoint(measured.map((each) => placeErrors(() => instrumentOf(each.measurement, choice), each)));
}

function instrumentOf(measurement: Measurement, choice: FitChoice): Instrument {
  switch (measurement.kind) {
    case "curve":
      requireMaterial(measurement.curve);
      return { curve: measurement.curve };
    case "harmonics":
      return { harmonics: measurement.spectrum, relaxation: relaxationOf(measurement, choice) };
    case "susceptibility":
      return { susceptibility: measurement.susceptibility, model: susceptibilityModelOf(measurement, choice) };
  }
}

/** The tracer that a fit gives, for those who cannot go on without one. */
export function tracerOf({ tracer, withheld }: FittedTracer, file: string): TracerDocument {
  if (tracer !== null) return tracer;
  throw new FerruleError("NotIdentifiable", {
    file,
    found: `a curve whose fit gives no tracer: ${withheld.join("; ")}`,
    accepted: "a curve that shows its rise and its saturation, or a tracer document of your own",
  });
}
