import type { TracerModel } from "../../documents/index.js";
import { FerruleError } from "../../errors.js";
import { type LineRaster, type RasterGeometry, type RasterModel, rasterModelSteps } from "../../imaging/index.js";
import { finishInSlices } from "../../numerics/index.js";
import type { ArtifactStore } from "../store/artifact-store.js";
import { canonicalHash } from "../store/canonical-json.js";
import type { StudyFolder } from "../store/study-folder.js";
import { geometryFor, rasterFromDocuments } from "./raster-from-documents.js";
import { responseOf } from "./tracer-physics.js";

/** What every step of a run shares. */
export interface StudyRun {
  readonly loaded: StudyFolder;
  readonly store: ArtifactStore;
  /** One line on what is being done; for a terminal only. */
  readonly progress: (text: string) => void;
  readonly signal: AbortSignal | undefined;
}

/** Content digest of a document as written; its layout does not matter. */
export const documentDigest = ({ document }: { document: object }): string => canonicalHash(document as never);

export interface Reconstruction {
  readonly geometry: RasterGeometry;
  /** The same with a tracer one standard uncertainty wider. */
  readonly wider: RasterGeometry;
  /** Built at the first call: some seconds. */
  readonly model: () => Promise<RasterModel>;
}

/** The settings block that the thread needs, or a refusal that shows one. */
export function requireSettings({ study, folder }: StudyFolder) {
  const { reconstruction, calibration } = study.model;
  if (reconstruction === undefined || calibration === undefined) {
    const missing = reconstruction === undefined ? "reconstruction" : "calibration";
    throw new FerruleError("MissingFact", {
      ...study.placeOf([]),
      path: missing,
      found: `a study without "${missing}" in ${folder}`,
      accepted: `the block "${missing}", as in the shipped study: ferrule new FOLDER --from four-spheres`,
    });
  }
  return { settings: reconstruction, calibration };
}

export const rasterOf = ({ scanner, protocol }: StudyFolder): LineRaster =>
  rasterFromDocuments(scanner.model, protocol.model, { file: protocol.placeOf([]).file });

export function reconstructionFor({ loaded, progress, signal }: StudyRun, tracer: TracerModel): Reconstruction {
  const { settings } = requireSettings(loaded);
  const raster = rasterOf(loaded);
  const geometry = geometryFor(loaded.scanner.model, raster, { settings, response: responseOf(tracer) });
  // Widths go as the inverse cube of the diameter.
  const factor = (1 + settings.widthRelativeUncertainty) ** (-1 / 3);
  let built: Promise<RasterModel> | undefined;
  const onProgress = (part: number) => progress(`forward model ${(100 * part).toFixed(0)} %`);
  return {
    geometry,
    wider: { ...geometry, response: responseOf(tracer, factor) },
    model: () => {
      built ??= finishInSlices(rasterModelSteps(geometry), { signal, onProgress });
      return built;
    },
  };
}
