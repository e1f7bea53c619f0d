import { z } from "zod";
import { curveBases } from "../../measure/index.js";
import { amplitudeMeanings } from "../descriptor/amplitude.js";
import { descriptorHead, fact, sampleFacts, text } from "../descriptor/fact-schema.js";
import { susceptibilityRoles } from "./column-words.js";

export const susceptibilityDescriptorUrn = "urn:ferrule:susceptibility-descriptor:1";

const bases = Object.keys(curveBases) as [keyof typeof curveBases];

/** The facts a table of susceptibilities cannot say itself. Each is optional: what is needed is asked for by name. */
const factsSchema = z.strictObject({
  susceptibilityUnit: fact(
    text.describe('e.g. "1", "m3/kg", "emu/Oe", "emu/g/Oe"; "arbitrary" where the scale is unknown'),
  ).optional(),
  unitSystem: fact(z.enum(["SI", "cgs"]))
    .describe(
      "where the unit alone does not tell (1, cm3, cm3/g): a volume susceptibility in SI is 4 pi times that in cgs",
    )
    .optional(),
  basis: fact(z.enum(bases)).describe("what the susceptibility is divided by").optional(),
  lossSign: fact(z.enum(["positive", "negative"]))
    .describe("sign that a lossy sample has in the imaginary (or phase) column; positive for chi' - i chi''")
    .optional(),
  frequencyUnit: fact(text.describe('e.g. "Hz"')).optional(),
  phaseUnit: fact(text.describe('"deg" or "rad"')).optional(),
  fieldAmplitude: fact(text.describe('mu0*H or H, e.g. "0.1 mT", "80 A/m"')).optional(),
  fieldAmplitudeMeaning: fact(z.enum(amplitudeMeanings)).optional(),
  viscosity: fact(text.describe('of the liquid, e.g. "0.89 mPa.s"')).optional(),
  ...sampleFacts,
});

export const susceptibilityDescriptorSchema = z.strictObject({
  schema: z.literal(susceptibilityDescriptorUrn),
  ...descriptorHead,
  columns: z
    .array(z.enum(susceptibilityRoles))
    .min(3)
    .describe("what each column is, in the order of the file")
    .optional(),
  facts: factsSchema,
});

export type SusceptibilityDescriptor = z.infer<typeof susceptibilityDescriptorSchema>;
