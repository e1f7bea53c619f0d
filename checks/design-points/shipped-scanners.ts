import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { parseDocument } from "../../src/documents/parse-document.js";
import type { ScannerModel } from "../../src/documents/scanner/scanner-model.js";
import type { TracerModel } from "../../src/documents/tracer/tracer-model.js";
import { type MassDetection, massDetection } from "../../src/measure/detection/mass-detection.js";
import { driveConditions } from "../../src/workbench/predict/drive-conditions.js";
import { lazyPool, solveResponse } from "../../src/workbench/predict/solve-response.js";
import { staticFieldWidth_T } from "../../src/workbench/predict/static-prediction.js";
import { type DetectionAnalysis, detectionAnalysis } from "../../src/workbench/scanner/detection-analysis.js";
import { readScanner } from "../../src/workbench/scanner/read-scanner.js";
import { referenceTracer } from "../../src/workbench/scanner/reference-tracer.js";

const shipped = (name: string) => fileURLToPath(new URL(`../../shipped/${name}.json`, import.meta.url));

/** A shipped scanner with what it would see of each tracer in one second. */
export interface Seen {
  readonly scanner: ScannerModel;
  /** Ideal 25 nm cores; free 22 nm cores with their relaxation. Both invented. */
  readonly ideal: DetectionAnalysis;
  readonly real: DetectionAnalysis;
  /** Largest gradient, and that along the drive. */
  readonly gradient_T_per_m: { readonly largest: number; readonly alongDrive: number };
  /** Static width of the free 22 nm cores along the drive. */
  readonly width_m: number;
}

export interface ShippedScanners {
  readonly mouse: Seen;
  readonly rat: Seen;
  readonly head: Seen;
}

/** The three scanners as they are shipped, each with both tracers at its own drive; about five seconds. */
export async function shippedScanners(): Promise<ShippedScanners> {
  const file = shipped("tracers/free-cores-22-nm");
  const real = parseDocument(readFileSync(file, "utf8"), { file, family: "tracer" }).model;
  const pool = lazyPool();
  try {
    const see = (name: string) => seen(readScanner(shipped(`scanners/${name}`)), real, pool);
    return { mouse: await see("mouse-point"), rat: await see("rat-line"), head: await see("head-concept") };
  } finally {
    await pool.close();
  }
}

async function seen(scanner: ScannerModel, real: TracerModel, pool: ReturnType<typeof lazyPool>): Promise<Seen> {
  const [drive] = driveConditions(scanner);
  const detect = async (tracer: TracerModel) => {
    const { magnetisation } = await solveResponse(tracer, drive, { pool });
    const found = detectionAnalysis(scanner, tracer, { ...drive, time_s: 1, magnetisation });
    if (found === null) throw new Error(`${scanner.name} has no receive channel along its drive`);
    return found;
  };
  const tensor = scanner.selectionField.gradient_T_per_m;
  const alongDrive = Math.hypot(...tensor["xyz".indexOf(drive.axis)]);
  const width_T = staticFieldWidth_T(real);
  if (width_T === null) throw new Error("the shipped tracer has a static width");
  return {
    scanner,
    ideal: await detect(referenceTracer()),
    real: await detect(real),
    gradient_T_per_m: { largest: Math.max(...tensor.flat().map(Math.abs)), alongDrive },
    width_m: width_T / alongDrive,
  };
}

/** Limits of a point that is looked at for another time: the noise falls as 1/sqrt(t), the stated background does not. */
export function detectionIn(time_s: number, { scanner }: Seen, { channels, axis }: DetectionAnalysis): MassDetection {
  const instability = scanner.receive.find((channel) => channel.axis === axis)?.chain.instability ?? 0;
  return massDetection(channels, { time_s, instability });
}
