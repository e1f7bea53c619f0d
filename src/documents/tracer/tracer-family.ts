import { defineFamily } from "../document-family.js";
import { toTracerModel } from "./tracer-model.js";
import { tracerSchema } from "./tracer-schema.js";

export const tracerFamily = defineFamily({
  name: "tracer",
  version: 1,
  summary: "particle ensemble: core sizes, magnetisation, relaxation, iron content",
  migrations: [],
  schema: tracerSchema,
  toModel: toTracerModel,
});
