import { z } from "zod";
import { nameField, textField } from "./text-field.js";

/** What a program-written document was made from: inputs by content hash, the method and its version. */
export const provenanceField = z
  .strictObject({
    inputs: z.array(
      z.strictObject({
        name: nameField("file name of the input", "curve.csv"),
        sha256: z
          .string()
          .regex(/^[0-9a-f]{64}$/)
          .meta({ description: "SHA-256 of the input's bytes, 64 lower-case hexadecimal digits" }),
      }),
    ),
    method: textField("what was done with the inputs", "log-normal fit to a magnetisation curve"),
    version: nameField("version of the program that did it", "0.1.0"),
  })
  .meta({ description: "what this document was made from, written by the program that made it" });

export type Provenance = z.output<typeof provenanceField>;
