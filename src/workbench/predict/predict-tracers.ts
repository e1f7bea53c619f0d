import {
  isSameState,
  parseDocument,
  type ScannerModel,
  type TracerModel,
  tracerInState,
} from "../../documents/index.js";
import { FerruleError } from "../../errors.js";
import type { SignalRatio } from "../../measure/index.js";
import type { PeriodicMagnetisation } from "../../physics/index.js";
import { parseQuantity } from "../../units/index.js";
import { readTextInput } from "../store/read-input.js";
import { type DriveConditions, type DriveRequest, driveConditions } from "./drive-conditions.js";
import { type DynamicPrediction, predictDynamic } from "./dynamic-prediction.js";
import { type DynamicUncertainty, dynamicUncertainty } from "./dynamic-uncertainty.js";
import { type RankedTracer, rankTracers } from "./rank-tracers.js";
import { lazyPool, type RunOptions, solveResponse } from "./solve-response.js";
import { predictStatic, type StaticPrediction } from "./static-prediction.js";
import { type WidthUncertainty, widthUncertainty } from "./width-uncertainty.js";

/** One tracer under one drive of one scanner. */
export interface TracerPrediction extends StaticPrediction {
  readonly tracer: string;
  readonly scanner: string;
  readonly state: TracerModel["environment"];
  readonly relaxation: TracerModel["relaxation"];
  readonly coupling: number | null;
  readonly drive: Pick<DriveConditions, "axis" | "amplitude_T" | "frequency_Hz" | "waveform">;
  readonly staticUncertainty: WidthUncertainty;
  readonly dynamic: DynamicPrediction;
  readonly dynamicUncertainty: DynamicUncertainty;
  /** Measured signal per iron in this state over that in the tracer's own environment; null where none was measured. */
  readonly signalFactor: SignalRatio | null;
  readonly advisories: readonly string[];
}

/** Predictions for one drive axis, and their order. */
export interface PredictedAxis {
  readonly predictions: readonly TracerPrediction[];
  /** By width at the drive as soon as one tracer has one, else by static width. */
  readonly rankedBy: "width at the drive" | "static width";
  readonly ranking: readonly RankedTracer[];
}

export interface PredictRequest extends DriveRequest {
  readonly tracerFiles: readonly string[];
  readonly scannerFile: string;
  /** The state to predict for; the tracer's own environment when not given. */
  readonly medium?: string | undefined;
  readonly temperature?: string | undefined;
}

/** Reads tracers and scanner and predicts each tracer for each drive. Reads files, writes none. */
export async function predictFromFiles(
  request: PredictRequest,
  { signal, onProgress }: RunOptions = {},
): Promise<PredictedAxis[]> {
  const { scannerFile: file } = request;
  const scanner = parseDocument(readTextInput(file), { file, family: "scanner" }).model;
  const tracers = namedApart(
    request.tracerFiles.map((name) => readTracer(name, request)),
    request.tracerFiles,
  );
  const drives = driveConditions(scanner, request);
  const pool = lazyPool();
  const total = tracers.length * drives.length;
  const axes: PredictedAxis[] = [];
  try {
    for (const [d, drive] of drives.entries()) {
      const predictions: TracerPrediction[] = [];
      for (const [t, tracer] of tracers.entries()) {
        const report = (part: number) => onProgress?.((d * tracers.length + t + part) / total);
        const solved = await solveResponse(tracer, drive, { pool, signal, onProgress: report });
        predictions.push(predictOne(tracer, scanner, { drive, solved }));
        report(1);
      }
      axes.push(ranked(predictions));
    }
  } finally {
    await pool.close();
  }
  return axes;
}

/** Two tracers of one name are told apart by their files. */
function namedApart(tracers: readonly TracerModel[], files: readonly string[]): TracerModel[] {
  return tracers.map((tracer, i) =>
    tracers.some((other, j) => j !== i && other.name === tracer.name)
      ? { ...tracer, name: `${tracer.name} [${files[i]}]` }
      : tracer,
  );
}

function readTracer(file: string, { medium, temperature }: PredictRequest): TracerModel {
  const { model } = parseDocument(readTextInput(file), { file, family: "tracer" });
  if (medium === undefined && temperature === undefined) return model;
  const found = [model.environment, ...model.states].find((state) => state.medium === (medium ?? state.medium));
  if (found === undefined)
    throw new FerruleError("UnknownName", {
      file,
      path: "states",
      found: `the medium "${medium}"`,
      accepted: `one in which tracer ${model.name} was measured: ${[model.environment, ...model.states].map((state) => state.medium).join(", ")}`,
    });
  const temperature_K =
    temperature === undefined
      ? found.temperature_K
      : parseQuantity(temperature, "temperature", { path: "--temperature" });
  return tracerInState(model, { medium: found.medium, temperature_K });
}

function predictOne(
  tracer: TracerModel,
  scanner: ScannerModel,
  { drive, solved }: { drive: DriveConditions; solved: PeriodicMagnetisation },
): TracerPrediction {
  const still = predictStatic(tracer, scanner, drive.axis);
  const dynamic = predictDynamic(tracer, scanner, { ...drive, solved });
  const staticUncertainty = widthUncertainty(tracer);
  const { axis, amplitude_T, frequency_Hz, waveform } = drive;
  return {
    ...still,
    tracer: tracer.name,
    scanner: scanner.name,
    state: tracer.environment,
    relaxation: tracer.relaxation,
    coupling: tracer.coupling ?? null,
    drive: { axis, amplitude_T, frequency_Hz, waveform },
    staticUncertainty,
    dynamic,
    signalFactor: tracer.states.find((state) => isSameState(state, tracer.environment))?.signalFactor ?? null,
    dynamicUncertainty: dynamicUncertainty(tracer, drive, {
      width_T: dynamic.width_T,
      staticWidth_T: still.staticWidth_T,
      staticUncertainty_T: staticUncertainty.standardUncertainty_T,
    }),
    advisories: [...tracer.advisories, ...scanner.advisories, ...drive.advisories, ...cautions(tracer, still, dynamic)],
  };
}

function cautions(tracer: TracerModel, still: StaticPrediction, dynamic: DynamicPrediction): string[] {
  const list = ["static width: a lower bound from the equilibrium curve; relaxation and filters widen it"];
  if (tracer.relaxation.kind === "combined")
    list.push("combined relaxation adds zero-field rates: at the fields of a drive this can fail; a rough figure only");
  if (tracer.relaxation.kind === "neel" && tracer.relaxation.easyAxes === "random")
    list.push(
      "fixed, randomly oriented easy axes do not follow the Langevin curve; precession is left out, so that rates hold for strong damping",
    );
  if (still.thresholdField_T !== null)
    list.push(
      "threshold of an endless chain without nucleation: measured thresholds are several times lower unless the coupling was fitted to them",
    );
  if ((tracer.coupling ?? 0) > 0 || tracer.relaxation.kind === "brownian" || tracer.relaxation.kind === "neel")
    list.push("a tracer with a history: its image is no convolution in the position of the field-free point");
  if (dynamic.solved.outcome !== "converged")
    list.push(
      `the steady state was reached to ${dynamic.solved.detail.errorEstimate.toPrecision(2)} of saturation only`,
    );
  list.push(
    "across the drive only static widths are given: the response to a field across a moving one is not modelled",
  );
  return list;
}

/**
 * By width at the drive as soon as one tracer has one; those without one are then not ranked, because a static
 * width is a lower bound and no match for a width at a drive.
 */
function ranked(predictions: readonly TracerPrediction[]): PredictedAxis {
  const isDynamic = predictions.some(({ dynamic }) => dynamic.width_T !== null);
  const widths = predictions.map(({ tracer, staticWidth_T, staticUncertainty, dynamic, dynamicUncertainty }) =>
    isDynamic
      ? {
          tracer,
          width_T: dynamic.width_T,
          standardUncertainty_T: dynamicUncertainty.standardUncertainty_T,
          why: dynamic.note,
        }
      : {
          tracer,
          width_T: staticWidth_T,
          standardUncertainty_T: staticUncertainty.standardUncertainty_T,
          why: "no static width: the curve jumps",
        },
  );
  return { predictions, rankedBy: isDynamic ? "width at the drive" : "static width", ranking: rankTracers(widths) };
}
