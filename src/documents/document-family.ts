import type { z } from "zod";
import type { VersionedFamily } from "./migrations.js";
import { schemaUrn } from "./schema-urn.js";
import { type Validation, validate } from "./validate.js";

/** A kind of document: one definition gives type, validation, JSON Schema and SI model. */
export interface DocumentFamily<Document, Model> extends VersionedFamily {
  /** What such a document says, in a line. */
  readonly summary: string;
  readonly schema: z.ZodType<unknown, Document>;
  /** Parsed once: from what people write to SI, or everything that is wrong. */
  readonly read: (document: unknown) => Validation<Model>;
}

export interface FamilyDefinition<Document, Parsed, Model> extends VersionedFamily {
  readonly summary: string;
  readonly schema: z.ZodType<Parsed, Document>;
  readonly toModel: (parsed: Parsed) => Model;
}

export function defineFamily<Document, Parsed, Model>(
  definition: FamilyDefinition<Document, Parsed, Model>,
): DocumentFamily<Document, Model> {
  const { toModel, ...rest } = definition;
  return {
    ...rest,
    read: (document) => {
      const validation = validate(definition.schema, document);
      return validation.kind === "invalid" ? validation : { kind: "valid", value: toModel(validation.value) };
    },
  };
}

export function familyUrn({ name, version }: VersionedFamily): string {
  return schemaUrn(name, version);
}
