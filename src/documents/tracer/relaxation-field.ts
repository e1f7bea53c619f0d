import { z } from "zod";
import type { HydrodynamicSize, Relaxation } from "../../physics/index.js";
import { quantity } from "../fields/quantity-field.js";
import { refuse } from "../fields/refuse.js";

const hydrodynamicFields = {
  viscosity: quantity("viscosity", {
    description: "of the liquid around the particles, at the temperature of the environment",
    example: "0.89 mPa.s",
    positive: true,
  }),
  hydrodynamicDiameter: quantity("length", {
    description: "median diameter of the whole particle, coating included, by number; or give shellThickness",
    example: "50 nm",
    min: "1 nm",
    max: "10 um",
  }).optional(),
  hydrodynamicLogSd: z
    .number()
    .gte(0)
    .max(1.5)
    .meta({
      description: "standard deviation of ln(hydrodynamic diameter), independent of the core; 0 when not stated",
    })
    .optional(),
  shellThickness: quantity("length", {
    description: "coating around each core, when every particle holds one core: diameter = core + 2 shells",
    example: "10 nm",
    min: "0 m",
    max: "1 um",
  }).optional(),
};

const anisotropyField = quantity("energyDensity", {
  description: "uniaxial anisotropy constant of the core (effective: shape and surface included)",
  example: "9 kJ/m3",
  positive: true,
  max: "1000 kJ/m3",
});

interface StatedHydrodynamic {
  readonly hydrodynamicDiameter?: number | undefined;
  readonly hydrodynamicLogSd?: number | undefined;
  readonly shellThickness?: number | undefined;
}

/** Exactly one way to say how large the whole particle is. */
function refuseUnclearSize(stated: StatedHydrodynamic, sink: z.core.$RefinementCtx): void {
  const { hydrodynamicDiameter, hydrodynamicLogSd, shellThickness } = stated;
  if ((hydrodynamicDiameter === undefined) === (shellThickness === undefined))
    refuse(sink, [hydrodynamicDiameter === undefined ? "hydrodynamicDiameter" : "shellThickness"], {
      found: hydrodynamicDiameter === undefined ? "no hydrodynamic size" : "a diameter and a shell",
      accepted: '"hydrodynamicDiameter", e.g. "50 nm", or "shellThickness", e.g. "10 nm"',
    });
  if (hydrodynamicLogSd !== undefined && hydrodynamicDiameter === undefined)
    refuse(sink, ["hydrodynamicLogSd"], {
      found: "a spread without a median",
      accepted: 'it together with "hydrodynamicDiameter"',
    });
}

export const relaxationField = z
  .discriminatedUnion("kind", [
    z.strictObject({ kind: z.literal("none") }),
    z.strictObject({
      kind: z.literal("debye"),
      time: quantity("time", { description: "relaxation time", example: "2 us", positive: true }),
    }),
    z.strictObject({
      kind: z.literal("field-dependent"),
      zeroFieldTime: quantity("time", { description: "Brown time at zero field", example: "20 us", positive: true }),
      law: z.enum(["peak", "instantaneous"]).meta({
        description: "peak: one time fitted to alternating fields; instantaneous: follows the field (steady-field law)",
      }),
    }),
    z.strictObject({ kind: z.literal("brownian"), ...hydrodynamicFields }).superRefine(refuseUnclearSize),
    z.strictObject({
      kind: z.literal("neel"),
      anisotropy: anisotropyField,
      damping: z
        .number()
        .min(0.001)
        .max(10)
        .meta({
          description: "damping constant of the Landau-Lifshitz-Gilbert equation, poorly known: 0.01 to 1",
          examples: [0.1],
        }),
      easyAxes: z.enum(["parallel", "random"]).meta({
        description: "parallel to the drive (aligned sample), or fixed at random (frozen, gel, bound)",
      }),
    }),
    z
      .strictObject({
        kind: z.literal("combined"),
        ...hydrodynamicFields,
        anisotropy: anisotropyField,
        attemptTime: quantity("time", {
          description: "attempt time of the Neel process",
          example: "1 ns",
          positive: true,
        }),
      })
      .superRefine(refuseUnclearSize),
  ])
  .meta({ description: "how the moments follow the field, in this environment" });

export type ParsedRelaxation = z.output<typeof relaxationField>;

export function toRelaxation(parsed: ParsedRelaxation): Relaxation {
  switch (parsed.kind) {
    case "none":
      return { kind: "none" };
    case "debye":
      return { kind: "debye", time_s: parsed.time };
    case "field-dependent":
      return { kind: "field-dependent", zeroFieldTime_s: parsed.zeroFieldTime, law: parsed.law };
    case "brownian":
      return { kind: "brownian", viscosity_Pa_s: parsed.viscosity, hydrodynamic: toHydrodynamic(parsed) };
    case "neel":
      return {
        kind: "neel",
        anisotropy_J_per_m3: parsed.anisotropy,
        damping: parsed.damping,
        easyAxes: parsed.easyAxes,
      };
    case "combined":
      return {
        kind: "combined",
        viscosity_Pa_s: parsed.viscosity,
        hydrodynamic: toHydrodynamic(parsed),
        anisotropy_J_per_m3: parsed.anisotropy,
        attemptTime_s: parsed.attemptTime,
      };
  }
}

/** The schema has made sure that one of the two is there. */
function toHydrodynamic({
  hydrodynamicDiameter,
  hydrodynamicLogSd,
  shellThickness,
}: StatedHydrodynamic): HydrodynamicSize {
  if (hydrodynamicDiameter === undefined) return { kind: "shell", thickness_m: shellThickness ?? 0 };
  return { kind: "median", diameter_m: hydrodynamicDiameter, logSd: hydrodynamicLogSd ?? 0 };
}
