import { z } from "zod";
import { originField } from "../fields/origin.js";
import { provenanceField } from "../fields/provenance.js";
import { quantity } from "../fields/quantity-field.js";
import { nameField, textField } from "../fields/text-field.js";
import { refuseMisfitUncertainties } from "./tracer-uncertainties.js";

const coreDiameter = (description: string) =>
  quantity("length", { description, example: "25 nm", min: "0.1 nm", max: "1 um" });

const sizesField = z.discriminatedUnion("kind", [
  z.strictObject({
    kind: z.literal("single"),
    diameter: coreDiameter("diameter of the magnetic core"),
  }),
  z.strictObject({
    kind: z.literal("lognormal"),
    weighting: z.enum(["number", "volume"]).meta({
      description: "what the median counts: particles (number) or their core volume, as most scattering methods do",
    }),
    medianDiameter: coreDiameter("median diameter of the magnetic core, in the stated weighting"),
    logSd: z.number().gt(0).max(2).meta({
      description: "standard deviation of the natural logarithm of the diameter (the same in both weightings)",
    }),
  }),
]);

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
    relaxation: z.discriminatedUnion("kind", [
      z.strictObject({ kind: z.literal("none") }),
      z.strictObject({
        kind: z.literal("debye"),
        time: quantity("time", { description: "relaxation time", example: "2 us", positive: true }),
      }),
    ]),
    environment: z.strictObject({
      medium: z.enum(["water", "gel", "blood", "cells", "other"]).meta({
        description: "what the particles were in when the numbers were taken",
      }),
      temperature: quantity("temperature", { example: "37 Cel", positive: true }),
    }),
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
  .meta({ title: "Tracer", description: "A particle ensemble: core sizes, magnetisation, relaxation, iron content." });

export type TracerDocument = z.input<typeof tracerSchema>;
export type ParsedTracer = z.output<typeof tracerSchema>;
