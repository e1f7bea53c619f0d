import { z } from "zod";
import { quantity } from "../fields/quantity-field.js";
import { refuse } from "../fields/refuse.js";
import { type AxisPositions, axisPositionsField, toAxisPositions } from "../protocol/axis-positions.js";

/** How the iron map is made, and what is known about what it depends on. */
export const reconstructionField = z
  .strictObject({
    harmonics: z
      .strictObject({ first: z.int().min(2), last: z.int().min(2) })
      .meta({ description: "harmonics of the drive that are used; the fundamental is lost to the receive filter" }),
    voxelsAlongDrive: axisPositionsField.meta({
      description: "voxel centres along the drive axis; inside the patches, so that the edges are known free of tracer",
    }),
    marginLines: z.int().min(-50).max(50).meta({
      description: "voxel columns beyond the scanned lines on each side; negative: the lines reach beyond the voxels",
    }),
    halo: z.strictObject({
      across: quantity("length", {
        description: "soft margin around a region across the drive",
        example: "3 mm",
        min: "0 m",
      }),
      along: quantity("length", { description: "the same along the drive", example: "2 mm", min: "0 m" }),
    }),
    widthUncertainty: quantity("fraction", {
      description: "relative standard uncertainty of the tracer's width in the state that is scanned",
      example: "5 %",
      min: "0",
      max: "100 %",
    }),
    contourUncertainty: quantity("length", {
      description: "standard uncertainty of a region's surface",
      example: "0.2 mm",
      min: "0 m",
    }),
    positionUncertainty: quantity("length", {
      description: "standard uncertainty of a region's position, per axis",
      example: "0.2 mm",
      min: "0 m",
    }),
  })
  .superRefine(({ harmonics }, sink) => {
    if (harmonics.last < harmonics.first)
      refuse(sink, ["harmonics", "last"], { found: String(harmonics.last), accepted: `at least ${harmonics.first}` });
  })
  .meta({
    description: "settings of the iron map; the regularisation weight comes from the pilot scan and is then frozen",
  });

export interface ReconstructionSettings {
  readonly harmonics: { readonly first: number; readonly last: number };
  readonly voxelsAlongDrive: AxisPositions;
  readonly marginLines: number;
  readonly haloAcross_m: number;
  readonly haloAlong_m: number;
  readonly widthRelativeUncertainty: number;
  readonly contourUncertainty_m: number;
  readonly positionUncertainty_m: number;
}

export function toReconstruction(parsed: z.output<typeof reconstructionField>): ReconstructionSettings {
  return {
    harmonics: parsed.harmonics,
    voxelsAlongDrive: toAxisPositions(parsed.voxelsAlongDrive),
    marginLines: parsed.marginLines,
    haloAcross_m: parsed.halo.across,
    haloAlong_m: parsed.halo.along,
    widthRelativeUncertainty: parsed.widthUncertainty,
    contourUncertainty_m: parsed.contourUncertainty,
    positionUncertainty_m: parsed.positionUncertainty,
  };
}
