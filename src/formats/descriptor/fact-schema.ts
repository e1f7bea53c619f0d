import { z } from "zod";

/** A fact about the file: said where the data come from, or taken on somebody's word. */
export const fact = <T extends z.ZodType>(value: T) =>
  z.strictObject({
    value,
    status: z.enum(["stated", "assumed"]).describe("stated: said with the data; assumed: nobody said so"),
    note: z.string().min(1).describe("who stated it, or why this is assumed"),
  });

export const text = z.string().min(1);

/** The facts of any descriptor, as far as the shared parts need them. */
export type AnyFacts = Readonly<
  Record<string, { readonly value: string; readonly status: "stated" | "assumed"; readonly note: string } | undefined>
>;

/** Facts of the sample that every kind of measurement may state. */
export const sampleFacts = {
  temperature: fact(text.describe('with its unit, e.g. "300 K"')).optional(),
  coreMaterial: fact(text.describe('e.g. "magnetite"')).optional(),
  coreSaturation: fact(text.describe('volume magnetisation of the core, e.g. "446 kA/m"')).optional(),
};

/** What every descriptor says besides its facts. */
export const descriptorHead = {
  name: text,
  licence: text.optional(),
  source: text.optional(),
  decimalMark: z.enum(["point", "comma"]).describe("of the numbers in the file, where it is not plain").optional(),
};

/** The decimal mark of the table as the readers take it. */
export function decimalMarkOf(descriptor: { readonly decimalMark?: "point" | "comma" } | undefined) {
  if (descriptor?.decimalMark === undefined) return undefined;
  return descriptor.decimalMark === "comma" ? "," : ".";
}
