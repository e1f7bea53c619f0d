import { z } from "zod";
import { axisField } from "../fields/axis-field.js";
import { quantity } from "../fields/quantity-field.js";
import { refuse } from "../fields/refuse.js";
import { windingField } from "./winding-field.js";

const share = (description: string, example: number) =>
  quantity("fraction", { description, example: String(example), min: "0", max: "1" });

const amplifierField = z
  .strictObject({
    voltageNoise: quantity("voltageNoise", {
      description: "e_n, referred to its input",
      example: "0.9 nV/Hz^0.5",
      min: "0 V/Hz^0.5",
    }),
    currentNoise: quantity("currentNoise", {
      description: "i_n; 0 when absent",
      example: "2 pA/Hz^0.5",
      min: "0 A/Hz^0.5",
    }).optional(),
  })
  .meta({ description: "first amplifier" });

const digitiserField = z
  .strictObject({
    bits: z.int().min(1).max(32).meta({ description: "resolution" }),
    range: quantity("voltage", { description: "largest magnitude that it takes", example: "1 V", positive: true }),
    rate: quantity("samplingRate", { description: "fastest", positive: true }),
    gain: z
      .number()
      .gt(0)
      .meta({ description: "voltage gain ahead of it; 1 when absent", examples: [100] })
      .optional(),
  })
  .meta({ description: "analogue-to-digital converter" });

export const receiveField = z
  .strictObject({
    axis: axisField("axis of the coil"),
    sensitivity: quantity("receiveSensitivity", {
      description: "field per current of the coil, B_R/I, as a magnitude; or give its windings",
      positive: true,
    }).optional(),
    windings: z
      .array(windingField)
      .min(1)
      .meta({ description: "of the coil, in series; a gradiometer has some of sense -1" })
      .optional(),
    polarity: z.literal([1, -1]).meta({
      description: "1: a current in the positive sense makes a field along +axis; -1: along -axis",
    }),
    noise: quantity("voltageNoise", {
      description: "total white noise of coil and amplifier, referred to the coil; or give resistance and amplifier",
      min: "0 V/Hz^0.5",
    }).optional(),
    resistance: quantity("resistance", {
      description: "of the coil in the band",
      example: "0.5 Ohm",
      min: "0 Ohm",
    }).optional(),
    inductance: quantity("inductance", { description: "of the coil", positive: true }).optional(),
    capacitance: quantity("capacitance", {
      description: "across the coil: cable, amplifier, tuning",
      positive: true,
    }).optional(),
    temperature: quantity("temperature", { description: "of the coil; 300 K when absent", positive: true }).optional(),
    amplifier: amplifierField.optional(),
    digitiser: digitiserField.optional(),
    lowCutoff: quantity("frequency", {
      description: "lower edge of the pass band",
      example: "40 kHz",
      positive: true,
    }).optional(),
    bandwidth: quantity("frequency", {
      description: "upper edge of the pass band",
      example: "1 MHz",
      positive: true,
    }).optional(),
    filterOrder: z.int().min(1).max(20).meta({ description: "of both edges; 4 when absent" }).optional(),
    removesFundamental: z.boolean().meta({ description: "whether a filter takes out the drive frequency" }),
    fundamentalLeft: share("share of the fundamental that the filter leaves; 0 when it removes it", 1e-4).optional(),
    imbalance: share(
      "share of one side's feedthrough that building tolerances leave in opposed windings, on top of what their geometry leaves (0 when absent); of windings of one sense, what a compensation leaves (1 when absent)",
      1e-3,
    ).optional(),
    distortion: share(
      "harmonic distortion of the drive, amplitude of each harmonic over the fundamental",
      1e-6,
    ).optional(),
    instability: share(
      "how much the background changes between a scan and the empties subtracted from it, standard deviation over the background",
      1e-3,
    ).optional(),
  })
  .superRefine((channel, sink) => {
    refuseUnclearSensitivity(channel, sink);
    refuseUnclearNoise(channel, sink);
    refuseImpossibleBand(channel, sink);
  });

export type ParsedReceive = z.output<typeof receiveField>;

function refuseUnclearSensitivity({ sensitivity, windings }: ParsedReceive, sink: z.core.$RefinementCtx): void {
  if ((sensitivity === undefined) !== (windings === undefined)) return;
  refuse(sink, ["sensitivity"], {
    found: sensitivity === undefined ? "neither a sensitivity nor windings" : "a sensitivity and windings",
    accepted: 'one of them: "sensitivity": "31.4 uT/A", or "windings"',
  });
}

function refuseUnclearNoise({ noise, amplifier, resistance }: ParsedReceive, sink: z.core.$RefinementCtx): void {
  if (noise !== undefined && amplifier !== undefined)
    refuse(sink, ["noise"], {
      found: "a total noise and the noise of the amplifier",
      accepted: 'one of them: "noise", or "resistance" with "amplifier"',
    });
  if (noise === undefined && (amplifier === undefined || resistance === undefined))
    refuse(sink, ["noise"], {
      found: "no noise, and not all that it follows from",
      accepted: '"noise": "0.9 nV/Hz^0.5", or "resistance" and "amplifier"',
    });
}

function refuseImpossibleBand({ digitiser, bandwidth, lowCutoff }: ParsedReceive, sink: z.core.$RefinementCtx): void {
  if (digitiser !== undefined && bandwidth !== undefined && bandwidth > digitiser.rate / 2)
    refuse(sink, ["bandwidth"], {
      found: `${bandwidth} Hz, above half the sampling rate of ${digitiser.rate} S/s`,
      accepted: `at most ${digitiser.rate / 2} Hz (Nyquist), or a faster digitiser`,
    });
  if (bandwidth !== undefined && lowCutoff !== undefined && lowCutoff >= bandwidth)
    refuse(sink, ["lowCutoff"], {
      found: `${lowCutoff} Hz, not below the upper edge of ${bandwidth} Hz`,
      accepted: `a frequency below ${bandwidth} Hz`,
    });
}
