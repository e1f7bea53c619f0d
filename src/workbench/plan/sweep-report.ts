import { researchUse } from "../../safety/index.js";
import { type SweepResult, type SweptCase, verdicts } from "./run-sweep.js";
import { sweepColumns } from "./sweep-columns.js";

/** A sweep as plain data: columns in SI, one value a point; null where something is not known. */
export function sweepReport({ sweep, tracer, staticWidth_T, shape, cases, advisories }: SweepResult) {
  return {
    schema: "urn:ferrule:sweep-result:1",
    name: sweep.name,
    tracer: tracer.name,
    staticWidth_T,
    scanTime_s: sweep.scanTime_s,
    driveAxis: sweep.driveAxis,
    axes: ["gradient", "drive_amplitude", "frequency", "bore_diameter"],
    shape,
    columns: sweepColumns,
    verdicts,
    currency: sweep.prices?.currency ?? null,
    cases: cases.map(caseReport),
    advisories,
    notice: researchUse,
  };
}

function caseReport(swept: SweptCase) {
  const { name, scanner, subject, subjectClass, base, table, steeper } = swept;
  return {
    name,
    scanner,
    subject,
    subjectClass,
    base,
    values: Object.fromEntries(
      sweepColumns.map((column) => [column.name, Array.from(table[column.name], finiteOrNull)]),
    ),
    firstLimit: { names: swept.firstNames, index: Array.from(swept.first), verdict: Array.from(swept.verdict) },
    hardware: { names: swept.hardwareNames, index: Array.from(swept.hardware) },
    steeperTracer: steeper,
    scalingFound: swept.scaling,
  };
}

const finiteOrNull = (value: number): number | null => (Number.isFinite(value) ? value : null);

/** Every point of every case as one table (RFC 4180); cells of what is not known are empty. */
export function sweepCsv({ cases }: SweepResult): string {
  const header = [
    "case",
    ...sweepColumns.map(({ name, unit }) => `${name} [${unit}]`),
    "first_limit",
    "verdict",
    "hardware_limit",
  ];
  const rows = cases.flatMap((swept) =>
    Array.from(swept.verdict, (verdict, i) =>
      [
        quoted(swept.name),
        ...sweepColumns.map(({ name }) => cell(swept.table[name][i])),
        quoted(swept.firstNames[swept.first[i]] ?? ""),
        quoted(verdicts[verdict]),
        quoted(swept.hardwareNames[swept.hardware[i]] ?? ""),
      ].join(","),
    ),
  );
  return [header.join(","), ...rows, ""].join("\r\n");
}

const cell = (value: number): string => (Number.isFinite(value) ? String(value) : "");
const quoted = (text: string): string => (/[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
