import { defineFamily } from "../document-family.js";
import { scannerSchema } from "./scanner-schema.js";
import { toScannerModel } from "./to-scanner-model.js";

export const scannerFamily = defineFamily({
  name: "scanner",
  version: 1,
  summary: "field-free region, gradient, drive, shift and receive chains",
  migrations: [],
  schema: scannerSchema,
  toModel: toScannerModel,
});
