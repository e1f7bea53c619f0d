import { z } from "zod";
import { nameField } from "../fields/text-field.js";

/** What a study asks. One entry per kind of question; the kind decides the other fields. */
export const questionField = z.discriminatedUnion("kind", [
  z
    .strictObject({
      kind: z.literal("iron-mass"),
      region: nameField("label of the region whose iron is asked for", "vial 1"),
    })
    .meta({ description: "mass of Fe in a region" }),
]);

export type Question = z.output<typeof questionField>;
