import { FerruleError } from "../../errors.js";
import type { RasterModel } from "../../imaging/index.js";
import type { Artifact } from "../store/artifact.js";
import { decodeScan } from "../store/npy-scan.js";
import { documentDigest, type StudyRun } from "./study-run.js";
import { voltageRows } from "./voltage-rows.js";

/** Plain TypeScript everywhere for now; a kernel that replaces it gets a name of its own. */
export const kernel = "reference";

export const pretty = (document: unknown) => `${JSON.stringify(document, null, 2)}\n`;

/** What every step after the tracer depends on, by content. */
export function modelInputs({ loaded }: StudyRun, tracer: { readonly artifact: Artifact }) {
  return {
    tracer: tracer.artifact.digest,
    scanner: documentDigest(loaded.scanner),
    protocol: documentDigest(loaded.protocol),
  };
}

/** The reconstruction settings as written: part of the key of every step that uses them. */
export const settingsOption = ({ loaded }: StudyRun) => loaded.study.document.reconstruction as never;

/** A stored scan as the model's voltage rows. */
export const rowsOf = (scan: Artifact, model: RasterModel) => voltageRows(decodeScan(scan, "scan").voltage_V, model);

export function artifactOf(scans: ReadonlyMap<string, Artifact>, name: string): Artifact {
  const artifact = scans.get(name);
  if (artifact === undefined)
    throw new FerruleError("UnknownName", { found: `the scan "${name}"`, accepted: [...scans.keys()].join(", ") });
  return artifact;
}
