import { parseDocument, type ScannerModel, type TracerModel } from "../../documents/index.js";
import type { RelativeInstability } from "../../measure/index.js";
import { finishInSlices } from "../../numerics/index.js";
import type { IronDose } from "../../safety/index.js";
import { driveConditions } from "../predict/drive-conditions.js";
import { lazyPool, type RunOptions, solveResponse } from "../predict/solve-response.js";
import { readTextInput } from "../store/read-input.js";
import { type PowerAnalysis, powerAnalysis } from "./coil-analysis.js";
import { type DetectionAnalysis, detectionAnalysis } from "./detection-analysis.js";
import { type FieldAnalysis, fieldAnalysisSteps } from "./field-analysis.js";
import { type LimitAnalysis, limitAnalysis } from "./limit-analysis.js";
import { type ReceiveAnalysis, receiveAnalysis } from "./receive-analysis.js";
import { referenceTracer } from "./reference-tracer.js";

export interface ScannerRequest {
  /** Tracer document for the detection estimate; ideal 25 nm cores when absent. */
  readonly tracerFile?: string | undefined;
  /** Averaging time of the detection estimate, s. */
  readonly time_s?: number | undefined;
  /** Allan deviation of the background over its mean, from empties. */
  readonly instability?: readonly RelativeInstability[] | undefined;
  readonly dose?: IronDose | undefined;
}

/** Everything that we can say of a scanner before a scan. */
export interface ScannerAnalysis {
  readonly scanner: ScannerModel;
  readonly field: FieldAnalysis;
  readonly power: PowerAnalysis;
  readonly receive: readonly ReceiveAnalysis[];
  readonly detection: readonly DetectionAnalysis[];
  readonly limits: LimitAnalysis;
  readonly advisories: readonly string[];
}

const usualTime_s = 1;

/** Fields, coils, receive chain, detection estimate and limits of a scanner. Reads the tracer's file; writes nothing. */
export async function analyseScanner(
  scanner: ScannerModel,
  { tracerFile, time_s = usualTime_s, instability, dose }: ScannerRequest = {},
  { signal, onProgress }: RunOptions = {},
): Promise<ScannerAnalysis> {
  const tracer = tracerFile === undefined ? referenceTracer() : readTracer(tracerFile);
  const field = await finishInSlices(fieldAnalysisSteps(scanner), {
    ...(signal === undefined ? {} : { signal }),
    onProgress: (part) => onProgress?.(0.7 * part),
  });
  const power = powerAnalysis(scanner);
  const receive = receiveAnalysis(scanner);
  onProgress?.(0.8);
  const detection = await detectionOf(scanner, tracer, { request: { time_s, instability }, signal });
  const limits = limitAnalysis(scanner, { dose });
  onProgress?.(1);
  const advisories = [
    ...scanner.advisories,
    ...(tracerFile === undefined
      ? [`detection: ${tracer.name}, ideal; give --tracer for a real one`]
      : tracer.advisories),
    ...coilAdvisories(power),
    ...receive.flatMap((channel) => [...channel.advisories, ...(channel.dynamicRange?.advisories ?? [])]),
    ...detection.flatMap(({ advisories: said }) => said),
    ...limits.advisories,
  ];
  return { scanner, field, power, receive, detection, limits, advisories: [...new Set(advisories)] };
}

/** Coils of which the same is said are named together. */
function coilAdvisories({ coils }: PowerAnalysis): string[] {
  const named = new Map<string, string[]>();
  for (const { name, advisories } of coils)
    for (const said of advisories) named.set(said, [...(named.get(said) ?? []), name]);
  return [...named].map(([said, names]) => `${names.join(", ")}: ${said}`);
}

async function detectionOf(
  scanner: ScannerModel,
  tracer: TracerModel,
  {
    request,
    signal,
  }: {
    readonly request: { readonly time_s: number; readonly instability?: readonly RelativeInstability[] | undefined };
    readonly signal?: AbortSignal | undefined;
  },
): Promise<DetectionAnalysis[]> {
  const pool = lazyPool();
  try {
    const found: DetectionAnalysis[] = [];
    for (const drive of driveConditions(scanner)) {
      const { magnetisation } = await solveResponse(tracer, drive, { pool, signal });
      const analysis = detectionAnalysis(scanner, tracer, { ...drive, ...request, magnetisation });
      if (analysis !== null) found.push(analysis);
    }
    return found;
  } finally {
    await pool.close();
  }
}

function readTracer(file: string): TracerModel {
  return parseDocument(readTextInput(file), { file, family: "tracer" }).model;
}
