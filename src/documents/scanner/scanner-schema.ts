import { z } from "zod";
import { axisField } from "../fields/axis-field.js";
import { originField } from "../fields/origin.js";
import { quantity } from "../fields/quantity-field.js";
import { refuse } from "../fields/refuse.js";
import { nameField } from "../fields/text-field.js";
import { diagonalTensor, refuseImpossibleField } from "./selection-tensor.js";

const element = () => quantity("fieldGradient", { description: "gradient of mu0*H, signed", example: "-3.5 T/m" });
const row = () => z.tuple([element(), element(), element()]);

/** The diagonal, or all nine elements by rows; one tensor once parsed. */
const gradientField = z.union([row().transform(diagonalTensor), z.tuple([row(), row(), row()])]).meta({
  description:
    "tensor of mu0*H, traceless and symmetric: its diagonal along x, y, z, or three rows of three, " +
    'e.g. ["-3.5 T/m", "-3.5 T/m", "7 T/m"]',
});

const driveAxisField = z.strictObject({
  axis: axisField("axis along which the coil drives"),
  maximumAmplitude: quantity("appliedField", {
    description: "largest amplitude, peak of mu0*H",
    example: "20 mT",
    positive: true,
  }),
  frequency: quantity("frequency", { description: "frequency to which the chain is tuned", positive: true }),
});

const shiftFieldField = z.strictObject({
  axis: axisField("axis along which the homogeneous field points"),
  range: quantity("appliedField", {
    description: "largest magnitude of mu0*H, reached with either sign",
    example: "280 mT",
    positive: true,
  }),
});

const receiveField = z.strictObject({
  axis: axisField("axis of the coil"),
  sensitivity: quantity("receiveSensitivity", {
    description: "field per current of the coil, B_R/I, as a magnitude",
    positive: true,
  }),
  polarity: z.literal([1, -1]).meta({
    description: "1: a current in the positive sense makes a field along +axis; -1: along -axis",
  }),
  noise: quantity("voltageNoise", {
    description: "total white noise of coil and amplifier, referred to the coil",
    min: "0 V/Hz^0.5",
  }),
  bandwidth: quantity("frequency", {
    description: "upper edge of the pass band",
    example: "1 MHz",
    positive: true,
  }).optional(),
  removesFundamental: z.boolean().meta({ description: "whether a filter takes out the drive frequency" }),
});

export const scannerSchema = z
  .strictObject({
    schema: z.literal("urn:ferrule:scanner:1"),
    name: nameField("what the scanner is called", "Example scanner"),
    origin: originField,
    boreDiameter: quantity("length", { description: "free diameter of the bore", example: "120 mm", positive: true }),
    topology: z.enum(["field-free-point", "field-free-line"]),
    selectionField: z.discriminatedUnion("kind", [
      z.strictObject({ kind: z.literal("ideal"), gradient: gradientField }),
    ]),
    driveAxes: z.array(driveAxisField).min(1),
    shiftFields: z
      .array(shiftFieldField)
      .meta({ description: "homogeneous slow fields; an empty list when there are none" }),
    receive: z.array(receiveField).min(1),
  })
  .superRefine((scanner, sink) => {
    refuseImpossibleField({ tensor: scanner.selectionField.gradient, topology: scanner.topology }, sink);
    refuseRepeatedShiftAxes(scanner.shiftFields, sink);
  })
  .meta({ title: "Scanner", description: "Field-free region, gradient, drive, shift and receive chains." });

function refuseRepeatedShiftAxes(shiftFields: readonly { readonly axis: string }[], sink: z.core.$RefinementCtx): void {
  shiftFields.forEach(({ axis }, index) => {
    if (shiftFields.findIndex((other) => other.axis === axis) < index)
      refuse(sink, ["shiftFields", index, "axis"], {
        found: `axis "${axis}" a second time`,
        accepted: "one shift field per axis, with the range of all its coils together",
      });
  });
}

export type ScannerDocument = z.input<typeof scannerSchema>;
export type ParsedScanner = z.output<typeof scannerSchema>;
