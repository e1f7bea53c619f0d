import { z } from "zod";
import { axisField } from "../fields/axis-field.js";
import { quantity } from "../fields/quantity-field.js";
import { refuse } from "../fields/refuse.js";
import { nameField } from "../fields/text-field.js";
import { axisPositionsField } from "./axis-positions.js";

const driveField = z.strictObject({
  axis: axisField("drive axis; one of the scanner's"),
  amplitude: quantity("appliedField", { description: "amplitude, peak of mu0*H", example: "20 mT", positive: true }),
  frequency: quantity("frequency", { description: "drive frequency", positive: true }),
  waveform: z.enum(["sine", "cosine"]).meta({ description: "the drive's course from the start of each period" }),
  phase: quantity("angle", {
    description: "added to the argument of the waveform; 0 when absent",
    example: "90 deg",
  }).optional(),
});

const rasterField = z
  .strictObject({
    axes: z.strictObject({ x: axisPositionsField, y: axisPositionsField, z: axisPositionsField }),
    bed: axisField("axis along which the bed moves the object, instead of a shift field").optional(),
  })
  .meta({
    description:
      "positions of the field-free centre. Along the drive axis: the centres of the patches that the drive sweeps. " +
      "Order in time: the drive axis runs fastest, then the remaining axes in the order x, y, z",
  });

export const protocolSchema = z
  .strictObject({
    schema: z.literal("urn:ferrule:protocol:1"),
    name: nameField("what the protocol is called", "Example raster"),
    drive: driveField,
    sampling: z.strictObject({
      rate: quantity("samplingRate", { description: "a whole number of samples per drive period", positive: true }),
    }),
    raster: rasterField,
    periodsPerPatch: z.int().min(1).meta({ description: "drive periods recorded at each position" }),
    settleTime: quantity("time", {
      description: "wait after each move before recording; none when absent",
      example: "2 ms",
      min: "0 s",
    }).optional(),
    empties: z
      .strictObject({
        every: z.int().min(1).meta({ description: "patches between two empty recordings" }),
        periods: z.int().min(1).meta({ description: "drive periods of each empty recording" }),
      })
      .meta({ description: "recordings with nothing in the bore, interleaved for background" })
      .optional(),
  })
  .superRefine(({ drive, sampling }, sink) => refusePartialPeriods(drive.frequency, sampling.rate, sink))
  .meta({ title: "Protocol", description: "What the scanner does: drive, sampling, raster, empties, timing." });

/** A few roundings of decimal text to double; a real mismatch is far larger. */
const wholeTolerance = 1e-9;

/** Two samples per period alias the drive onto itself; three are the fewest that carry it. */
const fewestSamples = 3;

/** The spectrum is taken over whole periods, so each must hold a whole number of samples. */
function refusePartialPeriods(frequency_Hz: number, rate_per_s: number, sink: z.core.$RefinementCtx): void {
  const samples = samplesPerPeriod(frequency_Hz, rate_per_s);
  const whole = Math.max(fewestSamples, Math.round(samples));
  if (Math.abs(samples - whole) <= wholeTolerance * whole) return;
  refuse(sink, ["sampling", "rate"], {
    found: `${perSecond(rate_per_s)}, which is ${Number(samples.toPrecision(9))} samples per period of ${frequency_Hz} Hz`,
    accepted: `a whole number of samples per drive period, at least ${fewestSamples}, e.g. ${perSecond(whole * frequency_Hz)} for ${whole}`,
  });
}

export function samplesPerPeriod(frequency_Hz: number, rate_per_s: number): number {
  return rate_per_s / frequency_Hz;
}

function perSecond(rate: number): string {
  return `"${Number(rate.toPrecision(15))} S/s"`;
}

export type ProtocolDocument = z.input<typeof protocolSchema>;
export type ParsedProtocol = z.output<typeof protocolSchema>;
