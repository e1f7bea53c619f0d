import type { ScannerModel, SweepCase, SweepModel, TracerModel } from "../../documents/index.js";
import { finishInSlices, type Steps } from "../../numerics/index.js";
import type { LimitBand } from "../../safety/index.js";
import type { RunOptions } from "../predict/solve-response.js";
import { staticFieldWidth_T } from "../predict/static-prediction.js";
import { scannerBody } from "../scanner/scanner-body.js";
import type { LoadedSweep } from "./read-sweep.js";
import { type ReferenceDesign, referenceDesign } from "./reference-design.js";
import type { DesignPoint } from "./scaled-design.js";
import { type ScalingFound, scalingFound } from "./scaling-found.js";
import { type SteeperTracer, steeperTracer } from "./steeper-tracer.js";
import { emptyTable, type SweepColumnName, type SweepTable } from "./sweep-columns.js";
import { emptyMemory, type SweepPoint, type SweepScene, sweepPoint } from "./sweep-point.js";
import { edgeShareOf, type HarmonicsAt, harmonicsAtDrives } from "./tracer-at-drives.js";

/** Verdicts of the subject's first limit, by number in the tables. */
export const verdicts = [
  "below every limit in our sources",
  "between the limits of our sources",
  "above every limit in our sources",
  "no published threshold in our sources",
] as const;

/** One case of a sweep over all its points. */
export interface SweptCase {
  readonly name: string;
  readonly scanner: string;
  readonly subject: string;
  readonly subjectClass: LimitBand["class"];
  readonly design: ReferenceDesign;
  /** Where the case stands when nothing is swept. */
  readonly base: DesignPoint;
  readonly table: SweepTable;
  /** Quantity of the subject's first limit at each point, place in `firstNames`; -1: none published. */
  readonly firstNames: readonly string[];
  readonly first: Int8Array;
  /** Place in `verdicts`. */
  readonly verdict: Int8Array;
  /** Hardware need that is nearest to, or furthest beyond, what there is; -1: nothing stated. */
  readonly hardwareNames: readonly string[];
  readonly hardware: Int8Array;
  readonly steeper: SteeperTracer;
  readonly scaling: ScalingFound;
  readonly advisories: readonly string[];
}

export interface SweepResult {
  readonly sweep: SweepModel;
  readonly tracer: TracerModel;
  readonly staticWidth_T: number | null;
  /** Length of each axis, in the order gradient, drive amplitude, frequency, bore; the last runs fastest. */
  readonly shape: readonly [number, number, number, number];
  readonly cases: readonly SweptCase[];
  /** Each case at its own gradient, drive, frequency and bore. */
  readonly bases: readonly SweepPoint[];
  readonly advisories: readonly string[];
}

/** Every combination of every case. The tracer's harmonics are solved first, each drive once. */
export async function runSweep(
  { sweep, tracer, scanners }: LoadedSweep,
  { signal, onProgress }: RunOptions = {},
): Promise<SweepResult> {
  const cases = sweep.cases.map((each, i) => prepared(each, scanners[i], sweep));
  const pairs = cases.flatMap(({ points, base, design }) => {
    const edgeShare = edgeShareOf(design.drive);
    return [base, ...points].map((point) => [point.driveAmplitude_T, point.frequency_Hz, edgeShare] as const);
  });
  const harmonics = await harmonicsAtDrives(tracer, pairs, { signal, onProgress: (part) => onProgress?.(0.5 * part) });
  const staticWidth_T = staticFieldWidth_T(tracer);
  const swept: CaseOutcome[] = [];
  for (const [i, each] of cases.entries()) {
    const steps = caseSteps(each, { sweep, tracer, staticWidth_T, harmonics });
    swept.push(
      await finishInSlices(steps, {
        ...(signal === undefined ? {} : { signal }),
        onProgress: (part) => onProgress?.(0.5 + (0.5 * (i + part)) / cases.length),
      }),
    );
  }
  const count = (axis: readonly number[] | undefined) => axis?.length ?? 1;
  const { over } = sweep;
  return {
    sweep,
    tracer,
    staticWidth_T,
    shape: [
      count(over.gradient_T_per_m),
      count(over.driveAmplitude_T),
      count(over.frequency_Hz),
      count(over.boreDiameter_m),
    ],
    cases: swept.map(({ swept: one }) => one),
    bases: swept.map(({ base }) => base),
    advisories: [
      ...new Set([
        ...sweep.advisories,
        ...tracer.advisories,
        ...common,
        ...swept.flatMap(({ swept: one }) => one.advisories),
      ]),
    ],
  };
}

const common = [
  "static width: a lower bound from the equilibrium curve; relaxation and filters widen it",
  "detection: a point of iron at the field-free point, measured all the time; an image's limit is higher",
  "scaled scanners keep their shape; shift coils, yokes, shields and cabinets are not scaled",
  "a body keeps its size when the bore changes",
];

interface PreparedCase {
  readonly name: string;
  readonly scanner: ScannerModel;
  readonly design: ReferenceDesign;
  readonly base: DesignPoint;
  readonly points: readonly DesignPoint[];
}

function prepared(each: SweepCase, scanner: ScannerModel, { driveAxis, over }: SweepModel): PreparedCase {
  const design = referenceDesign(scanner, driveAxis);
  const boreDiameter_m = each.boreDiameter_m ?? design.boreDiameter_m;
  const base: DesignPoint = {
    // Same shape, same fields: a gradient is a field over a length. A magnet's falls as 1/s, and so does ours unless asked.
    gradient_T_per_m: each.gradient_T_per_m ?? (design.gradient_T_per_m * design.boreDiameter_m) / boreDiameter_m,
    driveAmplitude_T: each.driveAmplitude_T ?? design.drive.maximumAmplitude_T,
    frequency_Hz: each.frequency_Hz ?? design.drive.frequency_Hz,
    boreDiameter_m,
  };
  const points = (over.gradient_T_per_m ?? [base.gradient_T_per_m]).flatMap((gradient_T_per_m) =>
    (over.driveAmplitude_T ?? [base.driveAmplitude_T]).flatMap((driveAmplitude_T) =>
      (over.frequency_Hz ?? [base.frequency_Hz]).flatMap((frequency_Hz) =>
        (over.boreDiameter_m ?? [base.boreDiameter_m]).map((bore) => ({
          gradient_T_per_m,
          driveAmplitude_T,
          frequency_Hz,
          boreDiameter_m: bore,
        })),
      ),
    ),
  );
  return { name: each.name, scanner, design, base, points };
}

interface CaseContext {
  readonly sweep: SweepModel;
  readonly tracer: TracerModel;
  readonly staticWidth_T: number | null;
  readonly harmonics: HarmonicsAt;
}

interface CaseOutcome {
  readonly swept: SweptCase;
  readonly base: SweepPoint;
}

function* caseSteps({ name, scanner, design, base, points }: PreparedCase, context: CaseContext): Steps<CaseOutcome> {
  const { sweep, tracer, staticWidth_T, harmonics } = context;
  const { body, advisories } = scannerBody({ subject: scanner.subject, boreDiameter_m: base.boreDiameter_m });
  const scene: SweepScene = {
    design,
    tracer,
    staticWidth_T,
    harmonics,
    body,
    scanTime_s: sweep.scanTime_s,
    prices: sweep.prices,
    resistances: new Map(),
    seen: emptyMemory(),
  };
  const table = emptyTable(points.length);
  const [first, verdict, hardware] = [0, 1, 2].map(() => new Int8Array(points.length).fill(-1));
  const [firstNames, hardwareNames]: [string[], string[]] = [[], []];
  for (const [i, point] of points.entries()) {
    const at = sweepPoint(scene, point);
    for (const [column, value] of Object.entries(at.row)) table[column as SweepColumnName][i] = value;
    const band = at.subject.first;
    verdict[i] = verdictOf(band?.ratio ?? null);
    if (band !== null) first[i] = placeOf(firstNames, withoutFrequency(band.quantity));
    if (at.hardware !== null) hardware[i] = placeOf(hardwareNames, at.hardware.name);
    if (i % 50 === 49) yield (i + 1) / points.length;
  }
  const swept: SweptCase = {
    name,
    scanner: scanner.name,
    subject: body.part,
    subjectClass: body.class,
    design,
    base,
    table,
    firstNames,
    first,
    verdict,
    hardwareNames,
    hardware,
    steeper: steeperTracer(design, base),
    scaling: scalingFound(scanner, design.drive.axis),
    advisories: [...scanner.advisories, ...advisories, ...pulseAdvisories(design)].map((each) => `${name}: ${each}`),
  };
  return { swept, base: sweepPoint(scene, base) };
}

function placeOf(names: string[], name: string): number {
  const at = names.indexOf(name);
  return at >= 0 ? at : names.push(name) - 1;
}

/** `nerve stimulation (peak to peak), drive z at 25 kHz` and the same at 50 kHz are one limit of a sweep. */
const withoutFrequency = (quantity: string): string => quantity.replace(/ at [0-9.]+ ?[kM]?Hz/, "");

/** A limit that is just reached counts as passed. */
function verdictOf(ratio: LimitBand["ratio"]): number {
  if (ratio === null) return 3;
  if (ratio.high < 1) return 0;
  return ratio.low >= 1 ? 2 : 1;
}

function pulseAdvisories({ drive }: ReferenceDesign): string[] {
  if (drive.waveform.kind === "sine") return [];
  return [
    "pulses and trapezoids are taken with half-cosine edges that keep their share of the period; current, voltage, power and feedthrough are those of a sine of the same amplitude, and the edges ask more",
  ];
}
