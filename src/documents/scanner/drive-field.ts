import { z } from "zod";
import { axisField } from "../fields/axis-field.js";
import { quantity } from "../fields/quantity-field.js";
import { refuse } from "../fields/refuse.js";
import { coilField } from "./coil-field.js";

const riseTime = (description: string) => quantity("time", { description, example: "2 us", positive: true });

const waveformField = z
  .discriminatedUnion("kind", [
    z.strictObject({ kind: z.literal("sine") }),
    z.strictObject({ kind: z.literal("trapezoid"), rampTime: riseTime("from one plateau to the other") }),
    z.strictObject({ kind: z.literal("pulsed"), riseTime: riseTime("of each edge, a half cosine") }),
  ])
  .meta({ description: "course of the drive field; a sine when absent" });

export const driveAxisField = z
  .strictObject({
    axis: axisField("axis along which the coil drives"),
    maximumAmplitude: quantity("appliedField", {
      description: "largest amplitude, peak of mu0*H",
      example: "20 mT",
      positive: true,
    }),
    frequency: quantity("frequency", { description: "frequency to which the chain is tuned", positive: true }),
    phase: quantity("angle", {
      description: "of this axis against the others; 0 when absent",
      example: "90 deg",
    }).optional(),
    waveform: waveformField.optional(),
    coil: coilField.optional(),
  })
  .superRefine(({ frequency, waveform }, sink) => {
    const edge =
      waveform?.kind === "trapezoid" ? waveform.rampTime : waveform?.kind === "pulsed" ? waveform.riseTime : 0;
    if (edge * frequency <= 0.5) return;
    refuse(sink, ["waveform", waveform?.kind === "trapezoid" ? "rampTime" : "riseTime"], {
      found: `${edge} s, longer than half a period of ${frequency} Hz`,
      accepted: `at most "${Number((5e5 / frequency).toPrecision(6))} us"`,
    });
  });

export const shiftFieldField = z.strictObject({
  axis: axisField("axis along which the homogeneous field points"),
  range: quantity("appliedField", {
    description: "largest magnitude of mu0*H, reached with either sign",
    example: "280 mT",
    positive: true,
  }),
  slew: quantity("fieldRate", {
    description: "fastest change of mu0*H; not known when absent",
    example: "40 T/s",
    positive: true,
  }).optional(),
  coil: coilField.optional(),
});

export const bedField = z
  .strictObject({
    axis: axisField("along which the bed moves; the bore's axis as a rule"),
    range: quantity("length", {
      description: "largest distance from the centre, either way",
      example: "60 mm",
      positive: true,
    }),
    speed: quantity("velocity", { description: "fastest", example: "20 mm/s", positive: true }),
  })
  .meta({ description: "a bed that moves the object instead of the field-free region" });

export type Waveform = z.output<typeof waveformField>;

export interface WaveformModel {
  readonly kind: "sine" | "trapezoid" | "pulsed";
  /** From one extreme to the other; half a period for a sine. */
  readonly edge_s: number;
}

export function toWaveform(waveform: Waveform | undefined, frequency_Hz: number): WaveformModel {
  switch (waveform?.kind) {
    case "trapezoid":
      return { kind: "trapezoid", edge_s: waveform.rampTime };
    case "pulsed":
      return { kind: "pulsed", edge_s: waveform.riseTime };
    default:
      return { kind: "sine", edge_s: 0.5 / frequency_Hz };
  }
}
