import { defineFamily } from "../document-family.js";
import { toProtocolModel } from "./protocol-model.js";
import { protocolSchema } from "./protocol-schema.js";

export const protocolFamily = defineFamily({
  name: "protocol",
  version: 1,
  summary: "what the scanner does: drive, sampling, raster, empties, timing",
  migrations: [],
  schema: protocolSchema,
  toModel: toProtocolModel,
});
