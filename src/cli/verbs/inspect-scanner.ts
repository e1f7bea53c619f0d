import { FerruleError } from "../../errors.js";
import { parseQuantity, type QuantityKind } from "../../units/index.js";
import type { Inspection, ScannerAnalysis, ScannerRequest } from "../../workbench/index.js";
import type { Face } from "../face.js";
import { alignedTable, wrapText } from "../table.js";
import { detectionRows } from "./detection-text.js";
import { everyLimit, limitRows } from "./limit-text.js";
import { coilRows, fieldRows, receiveRows } from "./scanner-text.js";

/** What only a scanner document takes. */
export interface ScannerOptions {
  readonly protocol?: string;
  readonly tracer?: string;
  readonly time?: string;
  readonly ironDose?: string;
  readonly bodyMass?: string;
  readonly empties?: string;
  readonly emptyInterval?: string;
  readonly out?: string;
  readonly replace?: boolean;
  readonly json?: boolean;
}

/** Analysis of a scanner after its inspection: printed, or one JSON document; figures with --out. */
export async function inspectScanner(face: Face, inspection: Inspection, options: ScannerOptions): Promise<void> {
  const { analyseScanner, scannerReport, scannerFigures, writeResults, readScanner, requireExecutable } = await import(
    "../../workbench/index.js"
  );
  const scanner = readScanner(inspection.file);
  const protocol = options.protocol === undefined ? undefined : requireExecutable(scanner, options.protocol);
  const request = await requestOf(options, scanner);
  const analysis = await analyseScanner(scanner, request, {
    signal: face.signal,
    onProgress: (part) => face.progress(`fields, coils, receive chain, limits ${(100 * part).toFixed(0)} %`),
  });
  const report = {
    ...inspection,
    ...scannerReport(analysis),
    ...(protocol === undefined ? {} : { executable: { protocol, problems: [] } }),
  };
  const files =
    options.out === undefined
      ? []
      : writeResults(
          options.out,
          {
            "scanner-report.json": `${JSON.stringify(report, null, 2)}\n`,
            ...(await scannerFigures(analysis, { onProgress: (what) => face.progress(`drawing ${what} ...`) })),
          },
          options.replace === undefined ? {} : { replace: options.replace },
        );
  if (options.json) face.print(JSON.stringify({ ...report, files }, null, 2));
  else show(face, analysis, inspection);
  if (!options.json && protocol !== undefined)
    face.print(`Protocol ${protocol}: nothing that is stated speaks against it`);
  if (!options.json && files.length > 0) face.print(`Written: ${files.join(", ")}`);
}

async function requestOf(options: ScannerOptions, scanner: ScannerAnalysis["scanner"]): Promise<ScannerRequest> {
  const { instabilityFromEmpties, ironDoseOf } = await import("../../workbench/index.js");
  const { tracer, time, ironDose, bodyMass, empties, emptyInterval } = options;
  if (empties !== undefined && emptyInterval === undefined)
    throw new FerruleError("MissingFact", {
      path: "--empty-interval",
      found: "empties without the time between them",
      accepted: '--empty-interval, e.g. "2 s"',
    });
  return {
    tracerFile: tracer,
    ...(time === undefined ? {} : { time_s: positive(time, "time", "--time") }),
    ...(ironDose === undefined ? {} : { dose: ironDoseOf({ ironDose, bodyMass }, scanner) }),
    ...(empties === undefined
      ? {}
      : { instability: instabilityFromEmpties(empties, positive(emptyInterval ?? "", "time", "--empty-interval")) }),
  };
}

function positive(text: string, kind: QuantityKind, path: string): number {
  const value = parseQuantity(text, kind, { path });
  if (value > 0) return value;
  throw new FerruleError("InvalidValue", { path, found: text, accepted: "a quantity above 0" });
}

function show(face: Face, analysis: ScannerAnalysis, { file, format, version }: Inspection): void {
  const { scanner, limits, advisories } = analysis;
  face.print(`${face.bold(file)}: sound ${format}, version ${version}`);
  face.print(scanner.name);
  section(face, "Field", fieldRows(analysis));
  section(face, "Coils at their largest field", coilRows(analysis), [1, 2, 3, 4, 5, 6, 7]);
  section(face, "Receive", receiveRows(analysis));
  section(face, "Detection (a point of Fe at the field-free point, all the time)", detectionRows(analysis));
  section(face, `Limits for part "${limits.subject}" and for staff, by class`, limitRows(limits));
  face.print(face.bold("\nEvery limit in our sources"));
  for (const line of everyLimit(limits)) face.print(line);
  face.print("");
  for (const advisory of advisories) for (const line of wrapText(`Caution: ${advisory}`)) face.print(line);
  for (const line of wrapText(limits.notice)) face.print(face.faint(line));
}

function section(face: Face, title: string, rows: string[][], right: number[] = []): void {
  if (rows.length === 0) return;
  face.print(face.bold(`\n${title}`));
  for (const line of alignedTable(rows, { right })) face.print(line);
}
