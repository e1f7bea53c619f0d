import { z } from "zod";
import { type CoreSizes, numberWeighted } from "../../physics/index.js";
import { quantity } from "../fields/quantity-field.js";
import { refuse } from "../fields/refuse.js";

const coreDiameter = (description: string) =>
  quantity("length", { description, example: "25 nm", min: "0.1 nm", max: "1 um" });

const weightingField = z.enum(["number", "volume"]).meta({
  description: "what medians and shares count: particles (number) or their core volume, as most scattering methods do",
});
const medianField = coreDiameter("median diameter of the magnetic core, in the stated weighting");
const logSdField = z.number().gt(0).max(2).meta({
  description: "standard deviation of the natural logarithm of the diameter (the same in both weightings)",
});
const shareField = z.number().gte(0).max(1e12).meta({ description: "relative to the others; only ratios count" });

export const sizesField = z.discriminatedUnion("kind", [
  z.strictObject({
    kind: z.literal("single"),
    diameter: coreDiameter("diameter of the magnetic core"),
  }),
  z.strictObject({
    kind: z.literal("lognormal"),
    weighting: weightingField,
    medianDiameter: medianField,
    logSd: logSdField,
  }),
  z.strictObject({
    kind: z.literal("mixture"),
    weighting: weightingField,
    populations: z
      .array(z.strictObject({ share: shareField, medianDiameter: medianField, logSd: logSdField }))
      .min(2)
      .max(10)
      .meta({ description: "log-normal populations; shares and medians in the stated weighting" }),
  }),
  z
    .strictObject({
      kind: z.literal("table"),
      weighting: weightingField,
      diameters: z.array(coreDiameter("diameter of the magnetic core")).min(1).max(1000),
      shares: z.array(shareField).min(1).max(1000),
    })
    .superRefine(({ diameters, shares }, sink) => {
      if (diameters.length !== shares.length)
        refuse(sink, ["shares"], {
          found: `${shares.length} shares for ${diameters.length} diameters`,
          accepted: "one share for each diameter",
        });
      if (shares.every((share) => share === 0))
        refuse(sink, ["shares"], { found: "shares that are all 0", accepted: "at least one above 0, e.g. 1" });
    }),
]);

export type ParsedSizes = z.output<typeof sizesField>;

/** A log-normal becomes number-weighted; mixtures and tables keep their weighting, which the physics honours. */
export function toSizes(sizes: ParsedSizes): CoreSizes {
  switch (sizes.kind) {
    case "single":
      return { kind: "single", diameter_m: sizes.diameter };
    case "lognormal": {
      const { kind, weighting, medianDiameter, logSd } = sizes;
      return numberWeighted({ kind, weighting, medianDiameter_m: medianDiameter, logSd });
    }
    case "mixture": {
      const { kind, weighting, populations } = sizes;
      const part = ({ share, medianDiameter, logSd }: (typeof populations)[number]) => ({
        share,
        medianDiameter_m: medianDiameter,
        logSd,
      });
      return { kind, weighting, populations: populations.map(part) };
    }
    case "table":
      return { kind: "table", weighting: sizes.weighting, diameter_m: sizes.diameters, share: sizes.shares };
  }
}
