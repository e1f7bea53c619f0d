/** Front door of the workbench: use-cases that every face shares, and the store below them. */
export { type DoctorReport, examineMachine, findTool, type OptionalTool, optionalTools } from "./commands/doctor.js";
export { type FitCurveRequest, type FittedCurve, figureOfFit, fitCurve, fitDocument } from "./commands/fit-curve.js";
export { inspectFile } from "./commands/inspect-file.js";
export type { Inspection } from "./commands/inspection.js";
export { listShippedStudies, newStudy, type ShippedStudy } from "./commands/new-study.js";
export {
  type PredictRequest,
  predictFromFiles,
  predictTracer,
  type TracerPrediction,
} from "./commands/predict-tracer.js";
export type { Artifact } from "./store/artifact.js";
export { type ListedArtifact, listArtifacts, removeAbandonedParts } from "./store/artifact-list.js";
export { type ArtifactSpec, nodeName } from "./store/artifact-spec.js";
export { type ArtifactFiles, type ArtifactStore, openArtifactStore } from "./store/artifact-store.js";
export { writeFileAtomically } from "./store/atomic-write.js";
export { canonicalHash, canonicalJson } from "./store/canonical-json.js";
export { contentHash } from "./store/content-hash.js";
export { type FileSource, folderSource } from "./store/file-source.js";
export { decodeMap, encodeMap } from "./store/npy-map.js";
export { decodeScan, encodeScan, type StoredScan } from "./store/npy-scan.js";
export { readStudyFolder, type StudyFile, type StudyFolder, type StudyFolderDocument } from "./store/study-folder.js";
export { withStudyLock } from "./store/study-lock.js";
export { writeResults } from "./store/write-results.js";
export { artifactsOf } from "./thread/report-data.js";
export { type RunStudyRequest, runStudy, type StudyRunResult, type StudyStep, studySteps } from "./thread/run-study.js";
export { answerRows, answersOf, writeReport } from "./thread/write-report.js";
