import type { Inspection } from "../../workbench/index.js";
import type { Face } from "../face.js";
import { wrapText } from "../table.js";
import { type AddVerb, examples } from "../verb.js";

const curve = "shipped/curves/clustered-iron-oxide/FSL-DCM_data.txt";

/** `ferrule inspect`: what a file or folder is, whether it is sound, what it holds. */
export const addInspect: AddVerb = (program, face) => {
  program
    .command("inspect")
    .description("say what a file or a study's folder is, whether it is sound, and what it holds")
    .argument("<path>", "document, curve, NPY array, sidecar, artifact, or the folder of a study")
    .option("--json", "print one JSON document")
    .addHelpText("after", examples(`ferrule inspect ${curve}`, `ferrule inspect ${curve} --json`))
    .action(async (path: string, { json }: { json?: boolean }) => {
      const { inspectFile } = await import("../../workbench/index.js");
      face.progress("reading ...");
      const inspection = inspectFile(path);
      if (json) face.print(JSON.stringify(inspection, null, 2));
      else show(face, inspection);
    });
};

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
