import { z } from "zod";
import { type Parsed, type ParsedDocument, parseDocument } from "../../documents/index.js";
import { parseMeasurementDescriptor } from "../../formats/index.js";
import { parseSidecar } from "../store/parse-sidecar.js";
import type { Inspection } from "./inspection.js";

type Found = Omit<Inspection, "file" | "sound">;

const textOf = (bytes: Uint8Array): string => new TextDecoder("utf-8").decode(bytes);

/** The schema that a JSON object names; "" when it names none or is not whole; undefined for what is no JSON object. */
export function schemaOf(bytes: Uint8Array): string | undefined {
  if (!/^\s*\{/.test(textOf(bytes.subarray(0, 1000)))) return undefined;
  try {
    const { schema } = JSON.parse(textOf(bytes)) as { readonly schema?: unknown };
    return typeof schema === "string" ? schema : "";
  } catch {
    return "";
  }
}

export function inspectDocument(file: string, bytes: Uint8Array): Found {
  const parsed = parseDocument(textOf(bytes), { file });
  const { family, document, changes } = parsed;
  const version = document.schema.split(":").at(-1);
  return { format: `${family} document`, version, summary: { ...documentSummary(parsed), migrations: changes } };
}

/** What a document is about, in a few fields. */
export function documentSummary(parsed: ParsedDocument): Readonly<Record<string, unknown>> {
  const { name } = parsed.model;
  switch (parsed.family) {
    case "tracer":
      return { name, origin: parsed.model.origin, core: parsed.document.core };
    case "scanner":
      return { name, origin: parsed.model.origin, gradient_T_per_m: parsed.model.selectionField.gradient_T_per_m };
    case "protocol":
      return { name, drive: parsed.model.drive, patches: parsed.model.raster.patchCount };
    case "phantom":
      return { name, origin: parsed.model.origin, objects: parsed.model.objects.length, iron_kg: ironOf(parsed) };
    case "study":
      return studySummary(parsed);
    case "sweep":
      return { name, origin: parsed.model.origin, cases: parsed.document.cases, over: parsed.document.over };
  }
}

function ironOf({ model }: Parsed<"phantom">): number {
  return model.objects.reduce((sum, { ironMass_kg }) => sum + ironMass_kg, 0);
}

export function studySummary({ model }: Parsed<"study">): Readonly<Record<string, unknown>> {
  const { name, invented, notice, scans, regions, questions } = model;
  const named = { scans: scans.map((scan) => scan.name), regions: regions.map(({ label }) => label) };
  return { name, invented, ...(notice === undefined ? {} : { notice }), ...named, questions };
}

export function inspectDescriptor(file: string, bytes: Uint8Array): Found {
  const { schema, name, facts } = parseMeasurementDescriptor(textOf(bytes), { file });
  const [, , family, version] = schema.split(":");
  return { format: descriptorFormats[family] ?? family, version, summary: { name, facts } };
}

const descriptorFormats: Readonly<Record<string, string>> = {
  "curve-descriptor": "descriptor of a magnetisation curve",
  "harmonics-descriptor": "descriptor of harmonics",
  "susceptibility-descriptor": "descriptor of an AC susceptibility",
};

/** The parts of fit.json that a reader relies on; the rest is left alone. */
const fitSchema = z.object({
  schema: z.literal("urn:ferrule:fit:1"),
  model: z.string(),
  outcome: z.string(),
  reducedChiSquared: z.number(),
  parameters: z.array(
    z.object({ name: z.string(), value: z.number(), standardUncertainty: z.number().nullable(), unit: z.string() }),
  ),
  provenance: z.object({ method: z.string(), methodVersion: z.int(), inputs: z.array(z.json()) }),
});

export function inspectFit(file: string, bytes: Uint8Array): Found {
  const { model, outcome, reducedChiSquared, parameters, provenance } = parseSidecar(fitSchema, bytes, file);
  const summary = { model, outcome, reducedChiSquared, parameters, provenance };
  return { format: "fit of a tracer", version: "1", summary };
}

const predictionSchema = z.object({
  schema: z.literal("urn:ferrule:prediction:1"),
  axes: z.array(
    z.object({
      rankedBy: z.string(),
      ranking: z.array(z.object({ tracer: z.string(), rank: z.number().nullable(), width_T: z.number().nullable() })),
    }),
  ),
});

export function inspectPrediction(file: string, bytes: Uint8Array): Found {
  const { axes } = parseSidecar(predictionSchema, bytes, file);
  return { format: "prediction of tracers", version: "1", summary: { axes } };
}
