import { FerruleError } from "../../errors.js";
import type { Artifact } from "../store/artifact.js";
import { openArtifactStore } from "../store/artifact-store.js";
import { readStudyFolder } from "../store/study-folder.js";
import { withStudyLock } from "../store/study-lock.js";
import { answersNode } from "./answers-node.js";
import { mapNode, weightNode } from "./map-nodes.js";
import { artifactOf } from "./node-common.js";
import { scanNode } from "./scan-node.js";
import { reconstructionFor, requireSettings, type StudyRun } from "./study-run.js";
import { type TracerNode, tracerNode } from "./tracer-node.js";

/** How far down the thread to go: each step needs those before it. */
export const studySteps = ["tracer", "scans", "maps", "answers"] as const;
export type StudyStep = (typeof studySteps)[number];

export interface RunStudyRequest {
  readonly folder: string;
  readonly upTo?: StudyStep;
  readonly programVersion?: string;
  readonly signal?: AbortSignal;
  readonly onProgress?: (text: string) => void;
  /** Things a person should know though nothing failed: a stale lock taken over. */
  readonly onNote?: (text: string) => void;
}

/** Every artifact of a run, in the order of the thread. */
export interface StudyRunResult {
  readonly run: StudyRun;
  readonly tracer: TracerNode;
  readonly scans: ReadonlyMap<string, Artifact>;
  readonly weight?: Artifact;
  /** By the name of the object scan. */
  readonly maps: ReadonlyMap<string, Artifact>;
  readonly answers: ReadonlyMap<string, Artifact>;
}

/**
 * Brings a study up to date: tracer, scans, frozen weight, maps, answers. A step runs only when something it depends on
 * has changed (content hashes, options, its own method version); the rest comes from the study's `derived` folder.
 */
export async function runStudy(request: RunStudyRequest): Promise<StudyRunResult> {
  const { folder, upTo = "answers", programVersion, signal, onProgress = () => {}, onNote } = request;
  const loaded = readStudyFolder(folder);
  return await withStudyLock(
    folder,
    async () => {
      const store = openArtifactStore(folder, { programVersion: programVersion ?? null });
      const run: StudyRun = { loaded, store, progress: onProgress, signal };
      const tracer = await tracerNode(run);
      const result = { run, tracer, scans: new Map(), maps: new Map(), answers: new Map() };
      if (upTo === "tracer") return result;
      const scans = new Map<string, Artifact>();
      for (const scan of loaded.study.model.scans) scans.set(scan.name, await scanNode(run, tracer, scan));
      if (upTo === "scans") return { ...result, scans };
      return { ...result, scans, ...(await mapsAndAnswers(run, { tracer, scans, upTo })) };
    },
    { note: onNote },
  );
}

async function mapsAndAnswers(
  run: StudyRun,
  { tracer, scans, upTo }: { tracer: TracerNode; scans: ReadonlyMap<string, Artifact>; upTo: StudyStep },
) {
  requireSettings(run.loaded);
  const reconstruction = reconstructionFor(run, tracer.model);
  const pilot = artifactOf(scans, pilotOf(run));
  const weight = await weightNode(run, tracer, { pilot, reconstruction });
  const maps = new Map<string, Artifact>();
  const answers = new Map<string, Artifact>();
  for (const { name } of run.loaded.study.model.scans.filter(({ role }) => role === "object")) {
    const scan = artifactOf(scans, name);
    maps.set(name, await mapNode(run, tracer, { name, scan, weight, reconstruction }));
    if (upTo === "answers") answers.set(name, await answersNode(run, tracer, { name, scans, weight, reconstruction }));
  }
  return { weight, maps, answers };
}

/** The one scan that the regularisation weight is chosen on. */
function pilotOf({ loaded: { study } }: StudyRun): string {
  const pilots = study.model.scans.filter(({ role }) => role === "pilot");
  if (pilots.length === 1) return pilots[0].name;
  throw new FerruleError("MissingFact", {
    ...study.placeOf(["scans"]),
    found: `${pilots.length} scans of role "pilot"`,
    accepted: "exactly one: the regularisation weight is chosen on it, never on a scan that is answered about",
  });
}
