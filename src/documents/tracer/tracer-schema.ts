import { z } from "zod";
import { originField } from "../fields/origin.js";
import { provenanceField } from "../fields/provenance.js";
import { quantity } from "../fields/quantity-field.js";
import { nameField, textField } from "../fields/text-field.js";
import { relaxationField } from "./relaxation-field.js";
import { sizesField } from "./sizes-field.js";
import { mediumField, refuseTwinStates, stateField, temperatureField } from "./states-field.js";
import { refuseMisfitUncertainties } from "./tracer-uncertainties.js";

const coreField = z.strictObject({
  material: z.enum(["magnetite", "maghemite", "other"]).meta({ description: "what the magnetic core consists of" }),
  saturation: quantity("magnetisation", {
    description: "saturation magnetisation of the core material",
    example: "446 kA/m",
    positive: true,
    max: "10 MA/m",
  }),
  density: quantity("density", {
    description: "density of the core material",
    min: "100 kg/m3",
    max: "100000 kg/m3",
  }),
  ironMassFraction: quantity("fraction", {
    description: "mass of Fe per mass of core material (0.7236 in stoichiometric magnetite)",
    example: "72.36 %",
    min: "0.1 %",
    max: "100 %",
  }),
  momentPerIron: quantity("massMagnetisation", {
    description: "measured saturated moment per mass of Fe; without it, saturation / (density * ironMassFraction)",
    example: "119 A.m2/kg",
    positive: true,
  }).optional(),
  sizes: sizesField,
});

const uncertaintiesField = z
  .strictObject({
    saturation: quantity("magnetisation", { example: "10 kA/m", min: "0 A/m" }).optional(),
    diameter: quantity("length", {
      description: "for sizes of kind single",
      example: "0.5 nm",
      min: "0 m",
      max: "1 um",
    }).optional(),
    medianDiameter: quantity("length", {
      description: "for sizes of kind lognormal, in the weighting stated there",
      example: "0.5 nm",
      min: "0 m",
      max: "1 um",
    }).optional(),
    logSd: z.number().min(0).max(2).meta({ description: "for sizes of kind lognormal" }).optional(),
    medianLogSdCorrelation: z
      .number()
      .min(-1)
      .max(1)
      .meta({ description: "correlation of the last two, as a fit gives it; taken as 0 when not stated" })
      .optional(),
    staticWidth: quantity("appliedField", {
      description:
        "of the static width as a whole, as a fit gives it through the covariance of all its parameters; goes before what the others would give",
      example: "0.2 mT",
      min: "0 T",
    }).optional(),
    relaxationTime: quantity("time", {
      description: "for relaxation of kind debye or field-dependent",
      example: "0.2 us",
      min: "0 s",
    }).optional(),
    coupling: z.number().gte(0).max(1000).meta({ description: "of the coupling" }).optional(),
  })
  .meta({ description: "standard uncertainties (k = 1)" });

export const tracerSchema = z
  .strictObject({
    schema: z.literal("urn:ferrule:tracer:1"),
    name: nameField("what the tracer is called", "Example tracer A"),
    lot: nameField("the batch these numbers belong to").optional(),
    origin: originField,
    core: coreField,
    uncertainties: uncertaintiesField.optional(),
    relaxation: relaxationField,
    coupling: z
      .number()
      .gte(0)
      .max(1000)
      .meta({
        description:
          "mean-field coupling of chained cores, M = L(xi + coupling M): an effective parameter, not a geometry; above 3 there is hysteresis. With relaxation debye its time is that of the chain",
      })
      .optional(),
    environment: z.strictObject({ medium: mediumField, temperature: temperatureField }),
    states: z
      .array(stateField)
      .max(50)
      .meta({ description: "the same tracer in other media or at other temperatures, each with its own measurement" })
      .optional(),
    assumptions: z
      .array(
        z.strictObject({
          fact: textField("what is taken as known", "saturation of the core material"),
          value: textField("what it is taken to be", "446 kA/m"),
          note: textField("why", "bulk value; not measured for this lot"),
        }),
      )
      .meta({ description: "what was taken as known without measuring; carried into every answer" })
      .optional(),
    cautions: z
      .array(textField("a caution", "the sd column is not independent noise"))
      .meta({ description: "what a fit or a measurement said about itself; carried into every answer" })
      .optional(),
    provenance: provenanceField.optional(),
  })
  .superRefine(refuseMisfitUncertainties)
  .superRefine(refuseTwinStates)
  .meta({ title: "Tracer", description: "A particle ensemble: core sizes, magnetisation, relaxation, iron content." });

export type TracerDocument = z.input<typeof tracerSchema>;
export type ParsedTracer = z.output<typeof tracerSchema>;
