import { FerruleError } from "../../errors.js";
import { formatQuantity, type QuantityKind } from "../../units/index.js";
import type { SteeperTracer, SweepResult, SweptCase } from "../../workbench/index.js";
import type { Face } from "../face.js";
import { alignedTable, wrapText } from "../table.js";
import { type AddVerb, examples } from "../verb.js";
import { apparentPowerText, massText, ratioText } from "./engineering-text.js";

interface PlanOptions {
  readonly sweep?: string;
  readonly out?: string;
  readonly replace?: boolean;
  readonly json?: boolean;
}

const humanScale = "shipped/scanners/human-scale.json";

/** `ferrule plan --sweep`: what scanners cost and give over gradients, drives, frequencies and bores. */
export const addPlan: AddVerb = (program, face) => {
  program
    .command("plan")
    .description("compare scanners before they are built: width, signal, limits, power and cost drivers over a sweep")
    .option("--sweep <file>", "sweep document: cases, and what is varied (needed)")
    .option("--out <folder>", "write sweep.json, sweep.csv and figures with their data there")
    .option("--replace", "overwrite results that are in the folder already")
    .option("--json", "print one JSON document")
    .addHelpText(
      "after",
      examples(`ferrule plan --sweep ${humanScale}`, `ferrule plan --sweep ${humanScale} --out trade-off`),
    )
    .action(async ({ sweep, out, replace, json }: PlanOptions) => {
      if (sweep === undefined)
        throw new FerruleError("MissingFact", {
          path: "--sweep",
          found: "no sweep",
          accepted: "--sweep FILE, a sweep document; planning a whole study comes later",
        });
      const { readSweep, runSweep, sweepCsv, sweepFigures, sweepReport, writeResults } = await import(
        "../../workbench/index.js"
      );
      face.progress("reading ...");
      const began = performance.now();
      const result = await runSweep(readSweep(sweep), {
        signal: face.signal,
        onProgress: (part) => face.progress(`sweeping ${(100 * part).toFixed(0)} %${timeLeft(began, part)}`),
      });
      const report = sweepReport(result);
      if (out !== undefined) face.progress("drawing ...");
      const files =
        out === undefined
          ? []
          : writeResults(
              out,
              {
                "sweep.json": `${JSON.stringify(report)}\n`,
                "sweep.csv": sweepCsv(result),
                ...(await sweepFigures(result)),
              },
              replace === undefined ? {} : { replace },
            );
      if (json) face.print(JSON.stringify({ ...report, files }));
      else show(face, result);
      if (!json && files.length > 0) face.print(`Written: ${files.join(", ")}`);
    });
};

function timeLeft(began: number, part: number): string {
  const elapsed_s = (performance.now() - began) / 1000;
  return part > 0.05 && elapsed_s > 2 ? `, about ${((elapsed_s * (1 - part)) / part).toFixed(0)} s left` : "";
}

function show(face: Face, result: SweepResult): void {
  const { sweep, tracer, shape, cases, advisories, notice } = { ...result, notice: noticeText };
  const points = shape.reduce((all, count) => all * count, 1);
  face.print(
    `${face.bold(sweep.name)}: ${cases.length} ${cases.length === 1 ? "case" : "cases"}, ${points} points each, tracer ${tracer.name}`,
  );
  face.print(face.bold("\nEach case as it stands (nothing varied: its own gradient, drive and bore)"));
  for (const line of alignedTable(baseTable(result))) face.print(line);
  face.print(face.bold("\nOver the sweep, lowest to highest"));
  for (const line of alignedTable(rangeTable(cases))) face.print(line);
  face.print(
    face.bold("\nScaling found by building the coils at three sizes (a bore, G gradient, B field, f frequency)"),
  );
  for (const line of alignedTable(cases.map((swept) => [swept.name, scalingText(swept.scaling)]))) face.print(line);
  face.print(face.bold("\nA tracer ten times steeper, for the same width"));
  for (const line of alignedTable(cases.map((swept) => [swept.name, steeperText(swept.steeper)]))) face.print(line);
  face.print("");
  for (const advisory of [...advisories, cases[0].steeper.note])
    for (const line of wrapText(`Caution: ${advisory}`)) face.print(line);
  for (const line of wrapText(notice)) face.print(face.faint(line));
}

const noticeText =
  "Research use; not a medical device. Ratios compare a setting with published limits and clear nobody for a scan: local codes, ethics approval and licensed practice decide.";

type ShownKind = QuantityKind | "ratio" | "limit" | "apparent";

const rows: readonly {
  readonly column: keyof SweptCase["table"];
  readonly name: string;
  readonly kind: ShownKind;
}[] = [
  { column: "gradient", name: "gradient", kind: "fieldGradient" },
  { column: "drive_amplitude", name: "drive, peak", kind: "appliedField" },
  { column: "frequency", name: "frequency", kind: "frequency" },
  { column: "bore_diameter", name: "bore", kind: "length" },
  { column: "static_width", name: "static width along the drive", kind: "length" },
  { column: "patch", name: "patch", kind: "length" },
  { column: "shift_for_quarter_bore", name: "shift for a quarter bore", kind: "appliedField" },
  { column: "detection_noise", name: "detection limit, noise (Fe)", kind: "mass" },
  { column: "detection_background", name: "detection limit, background (Fe)", kind: "mass" },
  { column: "stimulation_high", name: "drive over strictest threshold", kind: "limit" },
  { column: "stimulation_low", name: "drive over most lenient threshold", kind: "limit" },
  { column: "heating_high", name: "heating over strictest limit", kind: "limit" },
  { column: "heat", name: "heat, selection and drive", kind: "power" },
  { column: "stored_energy", name: "stored energy", kind: "energy" },
  { column: "drive_apparent_power", name: "drive amplifier", kind: "apparent" },
  { column: "conductor_mass", name: "conductor", kind: "mass" },
  { column: "magnet_mass", name: "magnets", kind: "mass" },
  { column: "hardware_ratio", name: "largest need over supply", kind: "ratio" },
];

/** A threshold that nobody published is another thing than a figure that the document leaves out. */
const unknown = (kind: ShownKind): string => (kind === "limit" ? "no published threshold in our sources" : "not known");

function text(value: number, kind: ShownKind): string {
  if (!Number.isFinite(value)) return unknown(kind);
  if (value === 0) return "none";
  if (kind === "ratio" || kind === "limit") return ratioText(value);
  if (kind === "apparent") return apparentPowerText(value);
  if (kind === "mass") return massText(value);
  return formatQuantity(value, kind, { digits: 3 });
}

function baseTable({ cases, bases }: SweepResult): string[][] {
  return [
    ["", ...cases.map(({ name }) => name)],
    ["subject", ...cases.map(({ subject }) => subject)],
    ...rows.map(({ column, name, kind }) => [name, ...bases.map(({ row }) => text(row[column], kind))]),
    [
      "first limit of the subject",
      ...bases.map(({ subject }) => subject.first?.quantity ?? "no published threshold in our sources"),
    ],
    ["", ...bases.map(({ subject }) => subject.first?.verdict.split(";")[0] ?? "")],
  ];
}

function rangeTable(cases: readonly SweptCase[]): string[][] {
  return [
    ["", ...cases.map(({ name }) => name)],
    ...rows.map(({ column, name, kind }) => [name, ...cases.map(({ table }) => rangeText(table[column], kind))]),
  ];
}

function rangeText(values: Float64Array, kind: ShownKind): string {
  const known = values.filter(Number.isFinite);
  if (known.length === 0) return unknown(kind);
  const low = known.reduce((a, b) => Math.min(a, b));
  const high = known.reduce((a, b) => Math.max(a, b));
  return low === high ? text(low, kind) : `${text(low, kind)} to ${text(high, kind)}`;
}

function steeperText({ gradient_T_per_m: g, selectionPower_W: p, storedEnergy_J: e, patch_m }: SteeperTracer): string {
  const change = (now: number | null, then: number | null, kind: QuantityKind) =>
    now === null || then === null ? "not known" : `${text(now, kind)} to ${text(then, kind)}`;
  return `gradient ${change(g.now, g.steeper, "fieldGradient")}, selection power ${change(p.now, p.steeper, "power")}, stored energy ${change(e.now, e.steeper, "energy")}, patch ${change(patch_m.now, patch_m.steeper, "length")}`;
}

function scalingText({ selectionPower, storedEnergy, drivePower, reactivePower }: SweptCase["scaling"]): string {
  const law = (name: string, symbol: string, found: typeof selectionPower, withFrequency = false) =>
    found === null
      ? []
      : [
          `${name} ~ ${withFrequency ? `${power("f", found.frequency)} ` : ""}${power(symbol, found.wanted)} ${power("a", found.size)}`,
        ];
  const laws = [
    ...law("selection power", "G", selectionPower),
    ...law("stored energy", "G", storedEnergy),
    ...law("drive power", "B", drivePower),
    ...law("reactive power", "B", reactivePower, true),
  ];
  return laws.length === 0 ? "not known: no windings are stated" : laws.join(", ");
}

function power(symbol: string, exponent: number): string {
  const shown = Number(exponent.toFixed(3));
  return shown === 1 ? symbol : `${symbol}^${shown}`;
}
