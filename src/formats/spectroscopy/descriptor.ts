import { z } from "zod";
import { amplitudeMeanings } from "../descriptor/amplitude.js";
import { descriptorHead, fact, sampleFacts, text } from "../descriptor/fact-schema.js";
import { harmonicsRoles } from "./column-words.js";

export const harmonicsDescriptorUrn = "urn:ferrule:harmonics-descriptor:1";

export const spectrumQuantities = ["moment", "moment-rate", "voltage"] as const;
export type SpectrumQuantity = (typeof spectrumQuantities)[number];

const meaning = fact(z.enum(amplitudeMeanings));

/** The facts a table of harmonics cannot say itself. Each is optional: what is needed and missing is asked for by name. */
const factsSchema = z.strictObject({
  quantity: fact(z.enum(spectrumQuantities))
    .describe("what was Fourier-transformed: the moment, its rate of change, or the coil's voltage")
    .optional(),
  valueUnit: fact(
    text.describe('e.g. "A.m2", "emu", "A.m2/s", "uV"; "arbitrary" where the scale is unknown'),
  ).optional(),
  valueMeaning: meaning.describe("how the amplitudes of the harmonics are written").optional(),
  basis: fact(z.enum(["whole-sample", "per-iron-mass", "per-oxide-mass", "per-sample-mass"]))
    .describe("what the values are divided by")
    .optional(),
  receiveSensitivity: fact(text.describe('B_R/I of the receive coil, e.g. "31.4 uT/A"')).optional(),
  coilPolarity: fact(z.enum(["normal", "reversed"]))
    .describe("normal: u = -d/dt of (B_R/I).m; reversed: the opposite sign")
    .optional(),
  frequencyUnit: fact(text.describe('of a frequency column, e.g. "kHz"')).optional(),
  phaseUnit: fact(text.describe('"deg" or "rad"')).optional(),
  phaseConvention: fact(z.enum(["exp(+iwt)", "exp(-iwt)"]))
    .describe("exp(+iwt): the harmonic is a cos(kwt + phase) = Re (re + i im) e^{+ikwt}; exp(-iwt): a cos(kwt - phase)")
    .optional(),
  driveWaveform: fact(z.enum(["cosine", "sine"]))
    .describe("B(t) = A cos wt or A sin wt in the time to which the phases belong")
    .optional(),
  driveAmplitude: fact(text.describe('mu0*H, e.g. "20 mT"')).optional(),
  driveAmplitudeMeaning: meaning.optional(),
  driveFrequency: fact(text.describe('e.g. "25 kHz"')).optional(),
  biasField: fact(text.describe('static field along the drive, "0 mT" where there is none')).optional(),
  viscosity: fact(text.describe('of the liquid, e.g. "0.89 mPa.s"')).optional(),
  medium: fact(text.describe('e.g. "water"')).optional(),
  ...sampleFacts,
});

export const harmonicsDescriptorSchema = z.strictObject({
  schema: z.literal(harmonicsDescriptorUrn),
  ...descriptorHead,
  columns: z.array(z.enum(harmonicsRoles)).min(2).describe("what each column is, in the order of the file").optional(),
  facts: factsSchema,
});

export type HarmonicsDescriptor = z.infer<typeof harmonicsDescriptorSchema>;
