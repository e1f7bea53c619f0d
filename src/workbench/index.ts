/** Front door of the workbench: use-cases that every face shares, and the store below them. */
export { type DoctorReport, examineMachine, findTool, type OptionalTool, optionalTools } from "./commands/doctor.js";
export { inspectFile } from "./commands/inspect-file.js";
export type { Inspection } from "./commands/inspection.js";
export { listShippedStudies, newStudy, type ShippedStudy } from "./commands/new-study.js";
export { curveModelNames, relaxationNames } from "./fit/fit-choice.js";
export { fitDocument } from "./fit/fit-document.js";
export { figuresOfFit, goodnessWords } from "./fit/fit-figures.js";
export { type FitRequest, type FittedTracer, fitMeasurements, fitSteps } from "./fit/fit-measurements.js";
export { type LoadedSweep, readSweep } from "./plan/read-sweep.js";
export { runSweep, type SweepResult, type SweptCase } from "./plan/run-sweep.js";
export type { SteeperTracer } from "./plan/steeper-tracer.js";
export { sweepFigures } from "./plan/sweep-figures.js";
export { sweepCsv, sweepReport } from "./plan/sweep-report.js";
export { waveforms } from "./predict/drive-conditions.js";
export type { DynamicPrediction } from "./predict/dynamic-prediction.js";
export {
  type PredictedAxis,
  type PredictRequest,
  predictFromFiles,
  type TracerPrediction,
} from "./predict/predict-tracers.js";
export { figureOfPrediction } from "./predict/prediction-figure.js";
export { predictStatic, type StaticPrediction } from "./predict/static-prediction.js";
export { analyseScanner, type ScannerAnalysis, type ScannerRequest } from "./scanner/analyse-scanner.js";
export { instabilityFromEmpties } from "./scanner/empties-file.js";
export { ironDoseOf } from "./scanner/iron-dose-of.js";
export { readScanner } from "./scanner/read-scanner.js";
export { requireExecutable } from "./scanner/require-executable.js";
export { scannerFigures } from "./scanner/scanner-figures.js";
export { scannerReport } from "./scanner/scanner-report.js";
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
