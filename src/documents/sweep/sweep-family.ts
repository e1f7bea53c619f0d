import { defineFamily } from "../document-family.js";
import { toSweepModel } from "./sweep-model.js";
import { sweepSchema } from "./sweep-schema.js";

export const sweepFamily = defineFamily({
  name: "sweep",
  version: 1,
  summary: "scanners compared over gradients, drives, frequencies and bores",
  migrations: [],
  schema: sweepSchema,
  toModel: toSweepModel,
});
