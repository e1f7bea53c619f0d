import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { parseDocument, type TracerModel } from "../../src/documents/index.js";
import {
  type DirectSummationProblem,
  type LineRaster,
  type RasterGeometry,
  type RasterModel,
  rasterModel,
} from "../../src/imaging/index.js";
import { fitMeasurements } from "../../src/workbench/fit/fit-measurements.js";
import { readStudyFolder, type StudyFolder } from "../../src/workbench/store/study-folder.js";
import { geometryFor, physicsOf, rasterFromDocuments } from "../../src/workbench/thread/raster-from-documents.js";
import { responseOf } from "../../src/workbench/thread/tracer-physics.js";

export const studyFolder = join(
  dirname(dirname(dirname(fileURLToPath(import.meta.url)))),
  "shipped",
  "studies",
  "four-spheres",
);

export interface ShippedThread {
  readonly folder: StudyFolder;
  readonly tracer: TracerModel;
  readonly raster: LineRaster;
  readonly geometry: RasterGeometry;
  readonly wider: RasterGeometry;
  /** Factors by which the simulated truth differs is the caller's choice. */
  readonly problemFor: (diameterFactor: number) => DirectSummationProblem & { readonly noise_V_per_rtHz: number };
  readonly model: RasterModel;
}

/** The shipped study's documents as models, ready to simulate and invert; some seconds. */
export function shippedThread(): ShippedThread {
  const folder = readStudyFolder(studyFolder);
  const { tracerCurve, study, scanner, protocol } = folder;
  const settings = study.model.reconstruction;
  if (tracerCurve === undefined || settings === undefined) throw new Error("the shipped study has changed");
  const descriptor = tracerCurve.descriptor?.file;
  const fitted = fitMeasurements({
    files: [tracerCurve.curve.file],
    ...(descriptor === undefined ? {} : { descriptors: [descriptor] }),
  });
  const tracer = parseDocument(JSON.stringify(fitted.tracer), { family: "tracer" }).model;
  const raster = rasterFromDocuments(scanner.model, protocol.model);
  const physics = physicsOf(scanner.model, raster);
  const geometry = geometryFor(scanner.model, raster, { settings, response: responseOf(tracer) });
  const factor = (1 + settings.widthRelativeUncertainty) ** (-1 / 3);
  return {
    folder,
    tracer,
    raster,
    geometry,
    wider: { ...geometry, response: responseOf(tracer, factor) },
    problemFor: (diameterFactor) => ({ raster, ...physics, response: responseOf(tracer, diameterFactor) }),
    model: rasterModel(geometry),
  };
}
