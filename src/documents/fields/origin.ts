import { z } from "zod";
import { textField } from "./text-field.js";

/** Where the numbers of a document come from. Said by the writer, carried into every answer. */
export const originField = z
  .strictObject({
    kind: z.enum(["measured", "fitted", "invented"]).meta({
      description: "measured: read off an instrument; fitted: from a fit to data; invented: made up, for demonstration",
    }),
    note: textField("how the numbers came about, in a sentence", "Invented for demonstration."),
    source: textField("publication, data sheet or file that they come from").optional(),
  })
  .meta({ description: "where the numbers of this document come from" });

export type Origin = Readonly<z.output<typeof originField>>;

/** Made-up numbers are said wherever they lead to an answer. */
export function originAdvisories(what: string, origin: Origin): string[] {
  return origin.kind === "invented" ? [`${what}: the numbers are invented (${origin.note})`] : [];
}
