import { defineFamily } from "../document-family.js";
import { toPhantomModel } from "./phantom-model.js";
import { phantomSchema } from "./phantom-schema.js";

export const phantomFamily = defineFamily({
  name: "phantom",
  version: 1,
  summary: "a known distribution of iron",
  migrations: [],
  schema: phantomSchema,
  toModel: toPhantomModel,
});
