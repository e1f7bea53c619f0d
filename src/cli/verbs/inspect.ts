import { FerruleError } from "../../errors.js";
import type { Inspection } from "../../workbench/index.js";
import type { Face } from "../face.js";
import { wrapText } from "../table.js";
import { type AddVerb, examples } from "../verb.js";
import { inspectScanner, type ScannerOptions } from "./inspect-scanner.js";

const scanner = "shipped/scanners/mouse-point.json";
const curve = "shipped/curves/clustered-iron-oxide/FSL-DCM_data.txt";

/** `ferrule inspect`: what a file or folder is, whether it is sound, what it holds. */
export const addInspect: AddVerb = (program, face) => {
  program
    .command("inspect")
    .description("say what a file or a study's folder is, whether it is sound, and what it holds")
    .argument("<path>", "document, curve, NPY array, sidecar, artifact, or the folder of a study")
    .option(
      "--protocol <file>",
      "scanner: protocol document; refused, with the numbers, when the scanner cannot run it",
    )
    .option("--tracer <file>", "scanner: tracer document for the detection estimate (default: ideal 25 nm cores)")
    .option("--time <quantity>", 'scanner: averaging time of the detection estimate (default: "1 s")')
    .option("--empties <file>", "scanner: NPY array of the background in successive empties, for its Allan deviation")
    .option("--empty-interval <quantity>", 'scanner: time from one empty to the next, e.g. "2 s"')
    .option("--iron-dose <quantity>", 'scanner: Fe injected, e.g. "0.29 mg" or "2.8 mg/kg", beside labelled doses')
    .option("--body-mass <quantity>", 'scanner: of the subject, e.g. "25 g" (default: typical of its species)')
    .option("--out <folder>", "scanner: write its report (JSON) and figures with their data there")
    .option("--replace", "overwrite results that are in the folder already")
    .option("--json", "print one JSON document")
    .addHelpText("after", examples(`ferrule inspect ${curve}`, `ferrule inspect ${scanner} --json`))
    .action(async (path: string, options: ScannerOptions) => {
      const { inspectFile } = await import("../../workbench/index.js");
      face.progress("reading ...");
      const inspection = inspectFile(path);
      if (inspection.format === "scanner document") return inspectScanner(face, inspection, options);
      refuseScannerOptions(options);
      if (options.json) face.print(JSON.stringify(inspection, null, 2));
      else show(face, inspection);
    });
};

/** Options that would be ignored are a mistake of the caller. */
function refuseScannerOptions({ json: _, replace: __, ...rest }: ScannerOptions): void {
  const [given] = Object.keys(rest);
  if (given === undefined) return;
  const name = `--${given.replace(/[A-Z]/g, (capital) => `-${capital.toLowerCase()}`)}`;
  throw new FerruleError("InvalidValue", {
    path: name,
    found: "it with a file that is no scanner",
    accepted: "it with a scanner document",
  });
}

function show(face: Face, { file, format, version, summary }: Inspection): void {
  face.print(`${face.bold(file)}: sound ${format}${version === undefined ? "" : `, version ${version}`}`);
  for (const line of outline(summary, "  ")) face.print(line);
}

const widestLine = 100;

/** Plain data as indented lines: what fits stands on one line, the rest is unfolded below its name. */
function outline(value: unknown, indent: string): string[] {
  return entriesOf(value).flatMap(([name, inner]) => {
    const line = `${indent}${name} ${words(inner)}`;
    if (typeof inner !== "object" || inner === null) return wrapText(line.trim(), { width: widestLine, indent });
    if (line.length <= widestLine && !isListOfObjects(inner)) return [line];
    return [`${indent}${name}`, ...outline(inner, `${indent}  `)];
  });
}

function entriesOf(value: unknown): [string, unknown][] {
  if (Array.isArray(value)) return value.map((item) => ["-", item]);
  return Object.entries(value as object).map(([name, inner]) => [`${name}:`, inner]);
}

function isListOfObjects(value: unknown): boolean {
  return Array.isArray(value) && value.some((item) => typeof item === "object" && !Array.isArray(item));
}

/** A value on one line: `[1, 2]`, `kind = iron, unit = kg/m3`. */
function words(value: unknown): string {
  if (typeof value === "number") return Number.isInteger(value) ? String(value) : String(Number(value.toPrecision(7)));
  if (typeof value !== "object" || value === null) return String(value);
  if (Array.isArray(value)) return value.length === 0 ? "none" : `[${value.map(words).join(", ")}]`;
  return Object.entries(value)
    .map(([name, inner]) => `${name} = ${isPlainObject(inner) ? `(${words(inner)})` : words(inner)}`)
    .join(", ");
}

const isPlainObject = (value: unknown) => typeof value === "object" && value !== null && !Array.isArray(value);
