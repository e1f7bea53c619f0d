import { existsSync, statSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { FerruleError } from "../../errors.js";
import { measurementDescriptorUrns } from "../../formats/index.js";
import { artifactUrn, manifestName, readSoundManifest } from "../store/artifact-manifest.js";
import { contentHash } from "../store/content-hash.js";
import { mapUrn } from "../store/map-sidecar.js";
import { scanUrn } from "../store/npy-scan.js";
import { readInput } from "../store/read-input.js";
import { studyFileName } from "../store/study-folder.js";
import { inspectArray, inspectMap, inspectScan } from "./inspect-array.js";
import { inspectDescriptor, inspectDocument, inspectFit, inspectPrediction, schemaOf } from "./inspect-document.js";
import { inspectMeasurement, isTableName } from "./inspect-measurement.js";
import { inspectStudy } from "./inspect-study.js";
import type { Inspection } from "./inspection.js";

const known =
  "a study's folder, a document (study, tracer, scanner, protocol, phantom, sweep), a measured table (.txt, .csv, .tsv, .dat) or its descriptor, an NPY array, the sidecar of a map or scan, an artifact, a fit.json or a predict.json";

/**
 * What a file is, whether it is sound, and what it holds. Everything that belongs to it is read too: the files of a
 * study, the array of a sidecar, the descriptor of a curve. Nothing is written.
 *
 * @throws FerruleError when it is not sound, with the place; when it is of no kind known here
 */
export function inspectFile(path: string): Inspection {
  if (!existsSync(path)) refuse(path, "no such file or folder");
  if (statSync(path).isDirectory()) return inspectFolder(path);
  const bytes = readInput(path, { largest_bytes: 4 * 2 ** 30 });
  const { format, version, summary } = inspectBytes(path, bytes);
  const identity = { bytes: bytes.length, sha256: contentHash(bytes) };
  return { file: path, format, version, sound: true, summary: { ...summary, ...identity } };
}

type Found = Omit<Inspection, "file" | "sound">;

function inspectFolder(path: string): Inspection {
  const found = existsSync(join(path, studyFileName))
    ? inspectStudy(path)
    : existsSync(join(path, manifestName))
      ? inspectArtifact(path)
      : refuse(path, `a folder without ${studyFileName} or ${manifestName}`);
  return { file: path, sound: true, ...found };
}

function inspectBytes(path: string, bytes: Uint8Array): Found {
  if (bytes[0] === 0x93) return inspectArray(path, bytes);
  const urn = schemaOf(bytes);
  if (urn !== undefined) return inspectJson(path, { bytes, urn });
  if (isTableName(path)) return inspectMeasurement(path);
  return refuse(path, bytes.length === 0 ? "an empty file" : "a file of no kind known here");
}

/** JSON by the "schema" in it; without one it is read as a document, whose reader says what is missing. */
function inspectJson(path: string, { bytes, urn }: { readonly bytes: Uint8Array; readonly urn: string }): Found {
  const readers: Readonly<Record<string, () => Found>> = {
    [mapUrn]: () => inspectMap(path),
    [scanUrn]: () => inspectScan(path),
    [artifactUrn]: () => inspectArtifact(dirname(path)),
    ...Object.fromEntries(measurementDescriptorUrns.map((name) => [name, () => inspectDescriptor(path, bytes)])),
    "urn:ferrule:fit:1": () => inspectFit(path, bytes),
    "urn:ferrule:prediction:1": () => inspectPrediction(path, bytes),
  };
  if (Object.hasOwn(readers, urn)) return readers[urn]();
  return basename(path) === studyFileName ? inspectStudy(dirname(path)) : inspectDocument(path, bytes);
}

function inspectArtifact(folder: string): Found {
  const { key, digest, files, spec } = readSoundManifest(folder);
  return { format: "artifact", version: "1", summary: { ...spec, key, digest, files } };
}

function refuse(file: string, found: string): never {
  throw new FerruleError("InvalidFile", { file, found, accepted: known });
}
