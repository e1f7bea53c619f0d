import { z } from "zod";
import { curveBases, curveBranches } from "../../measure/index.js";
import { columnRoles } from "./header.js";

export const curveDescriptorUrn = "urn:ferrule:curve-descriptor:1";

/** A fact about the file: said where the data come from, or taken on somebody's word. */
const fact = <T extends z.ZodType>(value: T) =>
  z.strictObject({
    value,
    status: z.enum(["stated", "assumed"]).describe("stated: said with the data; assumed: nobody said so"),
    note: z.string().min(1).describe("who stated it, or why this is assumed"),
  });

const text = z.string().min(1);
const bases = Object.keys(curveBases) as [keyof typeof curveBases];

/** The facts a table of numbers cannot say itself. Each is optional: what is needed and missing is asked for by name. */
const factsSchema = z.strictObject({
  fieldUnit: fact(text.describe('e.g. "A/m", "Oe", "mT"')).optional(),
  fieldMeaning: fact(z.enum(["applied", "flux-density"]))
    .describe("only for a field column in T, mT or G: mu0*H of the applied field, or B inside the sample")
    .optional(),
  magnetisationUnit: fact(text.describe('e.g. "emu", "A.m2/kg", "kA/m"')).optional(),
  basis: fact(z.enum(bases)).describe("what the magnetisation is divided by").optional(),
  branch: fact(z.enum(curveBranches)).optional(),
  temperature: fact(text.describe('with its unit, e.g. "300 K"')).optional(),
  coreMaterial: fact(text.describe('e.g. "magnetite"')).optional(),
  coreSaturation: fact(text.describe('volume magnetisation of the core, e.g. "446 kA/m"')).optional(),
});

export const curveDescriptorSchema = z.strictObject({
  schema: z.literal(curveDescriptorUrn),
  name: text,
  licence: text.optional(),
  source: text.optional(),
  columns: z.array(z.enum(columnRoles)).min(2).describe("what each column is, in the order of the file").optional(),
  facts: factsSchema,
});

export type CurveDescriptor = z.infer<typeof curveDescriptorSchema>;
export type CurveFactName = keyof CurveDescriptor["facts"];
