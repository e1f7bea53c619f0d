import { z } from "zod";
import { axisField } from "../fields/axis-field.js";
import { originField } from "../fields/origin.js";
import { quantity } from "../fields/quantity-field.js";
import { refuse, refuseDuplicates } from "../fields/refuse.js";
import { pathFromHere } from "../fields/relative-path.js";
import { nameField, textField } from "../fields/text-field.js";
import { subjectField } from "../scanner/subject-field.js";
import { axisValues, sweepAxisField } from "./sweep-axis.js";

const caseField = z.strictObject({
  name: nameField("what the case is called", "mouse bore"),
  scanner: pathFromHere("scanner document whose shape is scaled", "scanner.json"),
  boreDiameter: quantity("length", {
    description: "scale the whole scanner to this bore before the sweep",
    example: "200 mm",
    positive: true,
  }).optional(),
  gradient: quantity("fieldGradient", {
    description: "largest of the selection field's principal gradients; the scanner's own when absent",
    example: "2.5 T/m",
    positive: true,
  }).optional(),
  driveAmplitude: quantity("appliedField", {
    description: "peak; the scanner's largest when absent",
    positive: true,
  }).optional(),
  frequency: quantity("frequency", { description: "the scanner's when absent", positive: true }).optional(),
  subject: subjectField.optional(),
});

const price = (of: string) =>
  z
    .number()
    .gte(0)
    .meta({ description: `price ${of}, in your currency` })
    .optional();

/** Prices are the user's: none is shipped as fact. */
const pricesField = z.strictObject({
  currency: nameField("currency of all prices", "EUR"),
  conductorPerKg: price("of a kilogram of wound conductor"),
  magnetPerKg: price("of a kilogram of magnetised material"),
  amplifierPerKVA: price("of a kVA of amplifier"),
  coolingPerKW: price("of a kW of heat carried away"),
});

const most = 200_000;

export const sweepSchema = z
  .strictObject({
    schema: z.literal("urn:ferrule:sweep:1"),
    name: nameField("what the sweep is called", "Example sweep"),
    origin: originField,
    tracer: pathFromHere("tracer document", "tracer.json"),
    scanTime: quantity("time", {
      description: "for the detection estimate, of the drive alone",
      example: "60 s",
      positive: true,
    }),
    driveAxis: axisField("z when absent").optional(),
    cases: z.array(caseField).min(1).max(20),
    over: z
      .strictObject({
        gradient: sweepAxisField("fieldGradient", {
          description: "largest principal gradient",
          examples: ["0.5 T/m", "7 T/m"],
        }).optional(),
        driveAmplitude: sweepAxisField("appliedField", {
          description: "peak of mu0*H",
          examples: ["2 mT", "20 mT"],
        }).optional(),
        frequency: sweepAxisField("frequency", {
          description: "of the drive",
          examples: ["5 kHz", "100 kHz"],
        }).optional(),
        boreDiameter: sweepAxisField("length", {
          description: "the scanner keeps its shape",
          examples: ["40 mm", "400 mm"],
        }).optional(),
      })
      .meta({ description: "what is swept; every combination for every case" }),
    prices: pricesField.optional(),
    note: textField("remark").optional(),
  })
  .superRefine(({ cases, over }, sink) => {
    refuseDuplicates(sink, cases, { list: "cases", field: "name", label: ({ name }) => name });
    const points = Object.values(over).reduce(
      (all, axis) => all * (axis === undefined ? 1 : axisValues(axis).length),
      cases.length,
    );
    if (points > most)
      refuse(sink, ["over"], {
        found: `${points} points`,
        accepted: `at most ${most}: fewer values, or several sweeps`,
      });
    for (const name of ["gradient", "driveAmplitude", "frequency", "boreDiameter"] as const)
      cases.forEach((each, i) => {
        if (over[name] !== undefined && each[name] !== undefined)
          refuse(sink, ["cases", i, name], {
            found: "a value of a quantity that is swept",
            accepted: `it in "over" or in the case, not in both`,
          });
      });
  })
  .meta({ title: "Sweep", description: "Which scanners, and over which gradients, drives, frequencies and bores." });

export type SweepDocument = z.input<typeof sweepSchema>;
export type ParsedSweep = z.output<typeof sweepSchema>;
