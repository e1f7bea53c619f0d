import { realpathSync } from "node:fs";
import { join, sep } from "node:path";
import {
  DocumentError,
  type DocumentPath,
  type FamilyName,
  type Parsed,
  parseDocument,
  type StudyModel,
} from "../../documents/index.js";
import { FerruleError } from "../../errors.js";
import { contentHash } from "./content-hash.js";
import { readInput } from "./read-input.js";

export const studyFileName = "study.json";

/** A file of a study. */
export interface StudyFile {
  /** Relative to the study's folder, as study.json writes it. */
  readonly path: string;
  /** The same for opening. */
  readonly file: string;
  /** SHA-256 of its bytes. */
  readonly sha256: string;
}

export type StudyFolderDocument<Name extends FamilyName> = Parsed<Name> & StudyFile;

/** A study with every document that it refers to, read and found sound. */
export interface StudyFolder {
  readonly folder: string;
  readonly study: StudyFolderDocument<"study">;
  /** Either a tracer document, or the curve that it is fitted from. */
  readonly tracer: StudyFolderDocument<"tracer"> | undefined;
  readonly tracerCurve: { readonly curve: StudyFile; readonly descriptor: StudyFile | undefined } | undefined;
  readonly comparisonTracers: readonly StudyFolderDocument<"tracer">[];
  readonly scanner: StudyFolderDocument<"scanner">;
  readonly protocol: StudyFolderDocument<"protocol">;
  /** By the path that the scans give. */
  readonly phantoms: ReadonlyMap<string, StudyFolderDocument<"phantom">>;
  readonly recordings: ReadonlyMap<string, StudyFile>;
}

/**
 * Reads study.json in a folder and everything it refers to. Nothing is written.
 *
 * @throws FerruleError for study.json itself; for a file that it names, with the line and column of the name, and after
 *         it (DocumentError.problems) what is wrong inside that file
 */
export function readStudyFolder(folder: string): StudyFolder {
  const study = readStudy(folder);
  const { model } = study;
  const open = opener(folder, study);
  const read = <Name extends FamilyName>(at: DocumentPath, path: string, family: Name) =>
    readDocument(open(at, path), { family, study, at });
  const { tracer } = model;
  return {
    folder,
    study,
    tracer: tracer.kind === "document" ? read(["tracer"], tracer.path, "tracer") : undefined,
    tracerCurve: tracer.kind === "curve" ? openCurve(tracer, open) : undefined,
    comparisonTracers: model.comparisonTracerPaths.map((path, i) => read(["comparisonTracers", i], path, "tracer")),
    scanner: read(["scanner"], model.scannerPath, "scanner"),
    protocol: read(["protocol"], model.protocolPath, "protocol"),
    phantoms: new Map(
      model.scans.flatMap(({ source }, i) =>
        source.kind === "phantom"
          ? [[source.phantomPath, read(["scans", i, "phantom"], source.phantomPath, "phantom")] as const]
          : [],
      ),
    ),
    recordings: new Map(
      model.scans.flatMap(({ source }, i) =>
        source.kind === "recorded"
          ? [[source.dataPath, withoutBytes(open(["scans", i, "recorded"], source.dataPath))] as const]
          : [],
      ),
    ),
  };
}

function readStudy(folder: string): StudyFolderDocument<"study"> {
  const file = join(folder, studyFileName);
  let bytes: Uint8Array;
  try {
    bytes = readInput(file);
  } catch (cause) {
    if (cause instanceof FerruleError) throw cause;
    const accepted = 'the folder of a study, with a "study.json" in it';
    throw new FerruleError("InvalidFile", { file, found: "no such file", accepted, cause });
  }
  const parsed = parseDocument(textOf(bytes), { file, family: "study" });
  return { ...parsed, path: studyFileName, file, sha256: contentHash(bytes) };
}

interface OpenedFile extends StudyFile {
  readonly bytes: Uint8Array;
}

type Opener = (at: DocumentPath, path: string) => OpenedFile;

/** Opens files that the study names; each trouble is told at the place of the name. */
function opener(folder: string, study: Parsed<"study">): Opener {
  const root = realpathSync(folder);
  return (at, path) => {
    const file = join(folder, ...path.split("/"));
    const refuse = (found: string, accepted: string, cause?: unknown): never => {
      throw new FerruleError("InvalidFile", { ...study.placeOf(at), found: `"${path}", ${found}`, accepted, cause });
    };
    try {
      // The document has refused ".." already; a link can lead out as well.
      if (!realpathSync(file).startsWith(root + sep))
        refuse("a link that leads out of the study's folder", "a file inside the folder: copy it there");
      const bytes = readInput(file);
      return { path, file, bytes, sha256: contentHash(bytes) };
    } catch (cause) {
      if ((cause as NodeJS.ErrnoException).code === "ENOENT" || (cause as NodeJS.ErrnoException).code === "ENOTDIR")
        return refuse("which is not there", `the path of a file in ${folder}, relative to study.json`, cause);
      if (cause instanceof FerruleError && cause.place.path === undefined)
        return refuse(`which is ${cause.found}`, cause.accepted, cause);
      throw cause;
    }
  };
}

function openCurve({ curvePath, descriptorPath }: StudyModel["tracer"] & { kind: "curve" }, open: Opener) {
  const at = ["tracerCurve"];
  return {
    curve: withoutBytes(open([...at, "curve"], curvePath)),
    descriptor: descriptorPath === undefined ? undefined : withoutBytes(open([...at, "descriptor"], descriptorPath)),
  };
}

function readDocument<Name extends FamilyName>(
  opened: OpenedFile,
  { family, study, at }: { readonly family: Name; readonly study: Parsed<"study">; readonly at: DocumentPath },
): StudyFolderDocument<Name> {
  try {
    return { ...parseDocument(textOf(opened.bytes), { file: opened.file, family }), ...withoutBytes(opened) };
  } catch (error) {
    if (!(error instanceof FerruleError)) throw error;
    const inside =
      error instanceof DocumentError
        ? { problems: error.problems, count: error.problemCount }
        : { problems: [{ code: error.code, ...error.place, found: error.found, accepted: error.accepted }], count: 1 };
    const reference = {
      code: "InvalidDocument" as const,
      ...study.placeOf(at),
      found: `"${opened.path}", which cannot be used`,
      accepted: `a sound ${family} document: see what is wrong inside it`,
    };
    throw new DocumentError([reference, ...inside.problems], inside.count + 1);
  }
}

function withoutBytes({ path, file, sha256 }: OpenedFile): StudyFile {
  return { path, file, sha256 };
}

const textOf = (bytes: Uint8Array): string => new TextDecoder("utf-8").decode(bytes);
