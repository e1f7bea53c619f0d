import type { StudyRunResult, StudyStep } from "../../workbench/index.js";
import type { Face } from "../face.js";
import { alignedTable } from "../table.js";
import { readVersion } from "../version.js";

/** Runs a study up to a step for a verb of the command line, with progress. */
export async function runForVerb(face: Face, folder: string, upTo: StudyStep): Promise<StudyRunResult> {
  const { runStudy } = await import("../../workbench/index.js");
  return runStudy({
    folder,
    upTo,
    programVersion: readVersion(),
    signal: face.signal,
    onProgress: (text) => face.progress(text),
    onNote: (text) => face.note(text),
  });
}

/** One row per artifact: what it is, whether it was computed now, where it lies. */
export async function showArtifacts(face: Face, result: StudyRunResult): Promise<void> {
  const { artifactsOf } = await import("../../workbench/index.js");
  const rows = artifactsOf(result).map((artifact) => [
    artifact.node,
    artifact.fromCache ? "up to date" : "computed",
    artifact.digest.slice(0, 12),
    artifact.path(artifact.names[0]).replace(/[\\/][^\\/]+$/, ""),
  ]);
  for (const line of alignedTable([["step", "", "content", "folder"], ...rows])) face.print(line);
}

/** The same for machines. */
export async function artifactList(result: StudyRunResult) {
  const { artifactsOf } = await import("../../workbench/index.js");
  return artifactsOf(result).map(({ node, method, methodVersion, key, digest, fromCache, names, path }) => ({
    node,
    method,
    methodVersion,
    key,
    contentDigest: digest,
    fromCache,
    files: names.map((name) => path(name)),
  }));
}
