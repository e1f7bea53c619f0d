import { z } from "zod";
import { type BodyPart, bodyParts } from "../../safety/index.js";
import { quantity } from "../fields/quantity-field.js";
import { refuse } from "../fields/refuse.js";
import { textField } from "../fields/text-field.js";

const radius = (description: string) =>
  quantity("length", { description, example: "12 mm", positive: true, max: "1 m" });
const conductivity = () => quantity("conductivity", { example: "0.36 S/m", min: "0 S/m", max: "10 S/m" });
const density = () => quantity("density", { example: "1000 kg/m3", positive: true });

/** What lies in the bore: for heating and nerve stimulation. Typical values stand in for what is not stated. */
export const subjectField = z
  .strictObject({
    part: z.enum(bodyParts).meta({ description: "own: state everything" }),
    being: z.enum(["person", "animal"]).meta({ description: 'whose limits apply; for part "own" only' }).optional(),
    radius: radius("of the section across the bore; of a circle").optional(),
    semiAxes: z
      .tuple([radius("the first"), radius("the second")])
      .meta({ description: "of an elliptic section" })
      .optional(),
    conductivity: conductivity().optional(),
    density: density().optional(),
    mass: quantity("mass", { description: "of the whole body", example: "25 g", positive: true }).optional(),
    exposedMass: quantity("mass", {
      description: "of the part inside the drive field; without it whole-body averages are upper figures",
      example: "4 kg",
      positive: true,
    }).optional(),
    layers: z
      .array(z.strictObject({ outerRadius: radius("of this layer"), conductivity: conductivity(), density: density() }))
      .min(1)
      .meta({ description: "concentric tissues, from the middle outwards" })
      .optional(),
    stimulation: z
      .strictObject({
        rheobase: quantity("fieldRate", { description: "threshold dB/dt of long ramps", positive: true }),
        chronaxie: quantity("time", { description: "of the nerve", example: "0.36 ms", positive: true }),
        source: textField("where the two numbers come from"),
      })
      .meta({ description: "thresholds of your own, e.g. of another standard or of volunteers" })
      .optional(),
  })
  .superRefine(({ part, being, radius: round, semiAxes, layers, stimulation }, sink) => {
    if ((part === "own") !== (being !== undefined))
      refuse(sink, ["being"], {
        found: being === undefined ? 'part "own" of nobody' : `it for part "${part}", whose being is known`,
        accepted: 'for part "own": "person" or "animal"; nothing for the others',
      });
    if (round !== undefined && semiAxes !== undefined)
      refuse(sink, ["semiAxes"], { found: "a radius and semi-axes", accepted: "one of them" });
    refuseUnusedThreshold(part, stimulation, sink);
    if (part === "own" && round === undefined && semiAxes === undefined && layers === undefined)
      refuse(sink, ["radius"], { found: 'part "own" without a size', accepted: '"radius", "semiAxes" or "layers"' });
    (layers ?? []).forEach(({ outerRadius }, i) => {
      const inner = i === 0 ? 0 : (layers ?? [])[i - 1].outerRadius;
      if (outerRadius <= inner)
        refuse(sink, ["layers", i, "outerRadius"], {
          found: `${outerRadius} m, not outside the layer before it`,
          accepted: `more than ${inner} m`,
        });
    });
  })
  .meta({ description: "the body, or part of one, in the bore" });

function refuseUnusedThreshold(part: BodyPart, stimulation: object | undefined, sink: z.core.$RefinementCtx): void {
  if (stimulation === undefined || part === "own") return;
  refuse(sink, ["stimulation"], {
    found: `a threshold of your own for part "${part}"`,
    accepted: 'part "own", so that it is not taken for a published one',
  });
}

export type ParsedSubject = z.output<typeof subjectField>;

export interface SubjectModel {
  readonly part: BodyPart;
  readonly being?: "person" | "animal" | undefined;
  readonly radius_m?: number | undefined;
  readonly semiAxes_m?: readonly [number, number] | undefined;
  readonly conductivity_S_per_m?: number | undefined;
  readonly density_kg_per_m3?: number | undefined;
  readonly mass_kg?: number | undefined;
  readonly exposedMass_kg?: number | undefined;
  readonly layers?:
    | readonly {
        readonly outerRadius_m: number;
        readonly conductivity_S_per_m: number;
        readonly density_kg_per_m3: number;
      }[]
    | undefined;
  readonly stimulation?:
    | { readonly rheobase_T_per_s: number; readonly chronaxie_s: number; readonly source: string }
    | undefined;
}

export function toSubject(parsed: ParsedSubject): SubjectModel {
  const { part, being, radius: radius_m, semiAxes, mass, layers, stimulation } = parsed;
  return {
    part,
    being,
    radius_m,
    semiAxes_m: semiAxes,
    conductivity_S_per_m: parsed.conductivity,
    density_kg_per_m3: parsed.density,
    mass_kg: mass,
    exposedMass_kg: parsed.exposedMass,
    layers: layers?.map((layer) => ({
      outerRadius_m: layer.outerRadius,
      conductivity_S_per_m: layer.conductivity,
      density_kg_per_m3: layer.density,
    })),
    stimulation: stimulation && {
      rheobase_T_per_s: stimulation.rheobase,
      chronaxie_s: stimulation.chronaxie,
      source: stimulation.source,
    },
  };
}
