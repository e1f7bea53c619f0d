import { z } from "zod";
import { quantity } from "../fields/quantity-field.js";
import { relativePath } from "../fields/relative-path.js";
import { nameField, textField } from "../fields/text-field.js";
import { questionField } from "./question-field.js";
import { reconstructionField } from "./reconstruction-field.js";
import { regionShapeField } from "./region-shape.js";
import { scanField } from "./scan-field.js";
import { simulationField } from "./simulation-field.js";
import { refuseLooseEnds } from "./study-references.js";

const vialField = z.strictObject({
  label: nameField("how reports call the vial", "5 ug"),
  ironMass: quantity("mass", { description: "mass of Fe in the vial", example: "5 ug", positive: true }),
  standardUncertainty: quantity("mass", {
    description: "standard uncertainty of that mass, without the stock assay's share",
    example: "0.05 ug",
    min: "0 kg",
  }),
  scan: nameField("name of the calibration scan that holds this vial").optional(),
});

const regionField = z.strictObject({
  label: nameField("how questions and reports call the region", "vial 1"),
  shape: regionShapeField,
});

/** A measured curve, fitted when the study runs; stands in place of a tracer document. */
const tracerCurveField = z
  .strictObject({
    curve: relativePath("measured magnetisation curve", "tracer/curve.txt"),
    descriptor: relativePath("what the curve's file does not say", "tracer/descriptor.json").optional(),
  })
  .meta({ description: "a measured curve, fitted when the study runs; in place of tracer" });

export const studySchema = z
  .strictObject({
    schema: z.literal("urn:ferrule:study:1"),
    name: nameField("what the study is called", "Example study"),
    invented: z.boolean().meta({ description: "whether anything in it is made up for demonstration" }),
    notice: textField("said on every page of a report; required for an invented study", "Invented data.").optional(),
    description: textField("what the study is about").optional(),
    tracer: relativePath("tracer document", "tracer.json").optional(),
    tracerCurve: tracerCurveField.optional(),
    comparisonTracers: z
      .array(relativePath("tracer document", "other-tracer.json"))
      .meta({ description: "tracers whose predicted width and signal the report sets beside the study's own" })
      .optional(),
    scanner: relativePath("scanner document", "scanner.json"),
    protocol: relativePath("protocol document", "protocol.json"),
    scans: z.array(scanField).min(1),
    calibration: z
      .strictObject({
        vials: z.array(vialField).min(1),
        stockAssayRelativeUncertainty: quantity("fraction", {
          description: "relative standard uncertainty of the stock's iron assay, common to all vials",
          example: "2 %",
          min: "0",
          max: "100 %",
        }),
        contour: regionShapeField.meta({ description: "outline of a vial; all are scanned in this one place" }),
      })
      .optional(),
    simulation: simulationField.optional(),
    reconstruction: reconstructionField.optional(),
    regions: z.array(regionField),
    questions: z.array(questionField),
  })
  .superRefine(refuseLooseEnds)
  .meta({ title: "Study", description: "Documents, scans, calibration, regions and the questions asked of them." });

export type StudyDocument = z.input<typeof studySchema>;
export type ParsedStudy = z.output<typeof studySchema>;
