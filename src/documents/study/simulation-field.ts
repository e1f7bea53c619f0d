import { z } from "zod";
import { quantity } from "../fields/quantity-field.js";
import { extentField } from "../fields/vector-field.js";

/**
 * How simulated scans differ from what the reconstruction assumes: a planned study is only worth its intervals when the
 * truth is not the model.
 */
export const simulationField = z
  .strictObject({
    trueDiameterFactor: z.number().min(0.5).max(2).meta({
      description:
        "core diameter of the simulated tracer over that of the tracer document; the static width goes as its inverse cube (1.0161 narrows it by 5 %)",
    }),
    offsetGrid: extentField("spacing of the points of iron that are summed; finer than the map's voxels"),
    feedthrough: quantity("voltage", {
      description: "peak fundamental of the drive field in the receiver",
      min: "0 V",
    }),
    harmonicDistortion: quantity("fraction", {
      description: "harmonic n of the feedthrough is this over n squared, relative to the fundamental",
      example: "0.01 %",
      min: "0",
    }),
    driftAmplitude: quantity("fraction", {
      description: "relative rms change of the feedthrough",
      example: "1 %",
      min: "0",
    }),
    driftTime: quantity("time", { description: "shortest time in which it changes", example: "20 s", positive: true }),
  })
  .meta({ description: "settings of simulated scans; needed when a scan has a phantom" });

export interface SimulationSettings {
  readonly trueDiameterFactor: number;
  readonly offsetGrid_m: readonly [number, number, number];
  readonly feedthrough_V: number;
  readonly harmonicDistortion: number;
  readonly driftAmplitude: number;
  readonly drift_s: number;
}

export function toSimulation(parsed: z.output<typeof simulationField>): SimulationSettings {
  const { trueDiameterFactor, offsetGrid, feedthrough, harmonicDistortion, driftAmplitude, driftTime } = parsed;
  return {
    trueDiameterFactor,
    offsetGrid_m: offsetGrid,
    feedthrough_V: feedthrough,
    harmonicDistortion,
    driftAmplitude,
    drift_s: driftTime,
  };
}
