import { checkExecutable } from "../../documents/index.js";
import { listArtifacts } from "../store/artifact-list.js";
import { readStudyFolder, type StudyFile, type StudyFolder } from "../store/study-folder.js";
import { studySummary } from "./inspect-document.js";
import { inspectMeasurement } from "./inspect-measurement.js";
import type { Inspection } from "./inspection.js";

/**
 * A study's folder: every document read, every computed result verified. A damaged result makes no study unsound (it
 * will be computed again), so it is listed with its fault.
 */
export function inspectStudy(folder: string): Omit<Inspection, "file" | "sound"> {
  const study = readStudyFolder(folder);
  const { tracerCurve } = study;
  const curve = tracerCurve && inspectMeasurement(tracerCurve.curve.file, tracerCurve.descriptor?.file).summary;
  return {
    format: "study",
    version: study.study.document.schema.split(":").at(-1),
    summary: {
      ...studySummary(study.study),
      ...(curve === undefined ? {} : { tracerCurve: curve }),
      protocolProblems: checkExecutable(study.scanner.model, study.protocol.model),
      files: Object.fromEntries(filesOf(study).map(({ path, sha256 }) => [path, sha256])),
      artifacts: listArtifacts(folder),
    },
  };
}

/** Every file of the study once, study.json first. */
function filesOf({ study, tracer, tracerCurve, comparisonTracers, ...rest }: StudyFolder): StudyFile[] {
  const all = [
    study,
    tracer,
    tracerCurve?.curve,
    tracerCurve?.descriptor,
    ...comparisonTracers,
    rest.scanner,
    rest.protocol,
    ...rest.phantoms.values(),
    ...rest.recordings.values(),
  ].filter((file) => file !== undefined);
  return [...new Map(all.map((file) => [file.path, file])).values()];
}
