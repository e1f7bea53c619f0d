import { z } from "zod";
import { curveBases, curveBranches } from "../../measure/index.js";
import { descriptorHead, fact, sampleFacts, text } from "../descriptor/fact-schema.js";
import { columnRoles } from "./column-words.js";

export const curveDescriptorUrn = "urn:ferrule:curve-descriptor:1";

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
  ...sampleFacts,
});

export const curveDescriptorSchema = z.strictObject({
  schema: z.literal(curveDescriptorUrn),
  ...descriptorHead,
  columns: z.array(z.enum(columnRoles)).min(2).describe("what each column is, in the order of the file").optional(),
  facts: factsSchema,
});

export type CurveDescriptor = z.infer<typeof curveDescriptorSchema>;
export type CurveFactName = keyof CurveDescriptor["facts"];
