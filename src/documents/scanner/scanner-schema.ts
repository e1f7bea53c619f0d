import { z } from "zod";
import { axisField } from "../fields/axis-field.js";
import { originField } from "../fields/origin.js";
import { quantity } from "../fields/quantity-field.js";
import { refuse } from "../fields/refuse.js";
import { nameField } from "../fields/text-field.js";
import { bedField, driveAxisField, shiftFieldField } from "./drive-field.js";
import { receiveField } from "./receive-field.js";
import { refuseImpossibleScanner } from "./refuse-impossible-scanner.js";
import { selectionFieldField } from "./selection-field.js";
import { subjectField } from "./subject-field.js";

export const scannerSchema = z
  .strictObject({
    schema: z.literal("urn:ferrule:scanner:1"),
    name: nameField("what the scanner is called", "Example scanner"),
    origin: originField,
    boreDiameter: quantity("length", { description: "free diameter of the bore", example: "120 mm", positive: true }),
    boreLength: quantity("length", {
      description: "length of the bore; twice its diameter when absent",
      example: "300 mm",
      positive: true,
    }).optional(),
    boreAxis: axisField("of the bore; z when absent").optional(),
    topology: z.enum(["field-free-point", "field-free-line"]),
    selectionField: selectionFieldField,
    driveAxes: z.array(driveAxisField).min(1),
    shiftFields: z
      .array(shiftFieldField)
      .meta({ description: "homogeneous slow fields; an empty list when there are none" }),
    bed: bedField.optional(),
    lineRotation: quantity("frequency", {
      description: "full turns per second of a field-free line about the bore; absent: it stands still",
      example: "1 Hz",
      positive: true,
    }).optional(),
    receive: z.array(receiveField).min(1),
    duty: quantity("fraction", {
      description: "share of the time in which the drive is on; 1 when absent",
      example: "1",
      positive: true,
      max: "1",
    }).optional(),
    subject: subjectField.optional(),
    staffDistance: quantity("length", {
      description: "from the bore's centre to the nearest place of staff while the drive is on",
      example: "1 m",
      positive: true,
    }).optional(),
  })
  .superRefine((scanner, sink) => {
    refuseImpossibleScanner(scanner, sink);
    refuseRepeatedShiftAxes(scanner.shiftFields, sink);
    refuseRepeatedDrives(scanner.driveAxes, sink);
    if (scanner.lineRotation !== undefined && scanner.topology !== "field-free-line")
      refuse(sink, ["lineRotation"], {
        found: "a rotating line in a scanner with a field-free point",
        accepted: 'it with "topology": "field-free-line" only',
      });
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

/** A protocol names its drive by axis and frequency: the pair must be unique. */
function refuseRepeatedDrives(
  driveAxes: readonly { readonly axis: string; readonly frequency: number }[],
  sink: z.core.$RefinementCtx,
): void {
  driveAxes.forEach(({ axis, frequency }, index) => {
    if (driveAxes.findIndex((other) => other.axis === axis && other.frequency === frequency) < index)
      refuse(sink, ["driveAxes", index, "frequency"], {
        found: `axis "${axis}" at ${frequency} Hz a second time`,
        accepted: "one entry per axis and frequency",
      });
  });
}

export type ScannerDocument = z.input<typeof scannerSchema>;
export type ParsedScanner = z.output<typeof scannerSchema>;
