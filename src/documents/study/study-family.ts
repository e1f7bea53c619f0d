import { defineFamily } from "../document-family.js";
import { toStudyModel } from "./study-model.js";
import { studySchema } from "./study-schema.js";

export const studyFamily = defineFamily({
  name: "study",
  version: 1,
  summary: "documents, scans, calibration, regions and the questions asked of them",
  migrations: [],
  schema: studySchema,
  toModel: toStudyModel,
});
