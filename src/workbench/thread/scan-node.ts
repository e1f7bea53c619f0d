import type { StudyScan } from "../../documents/index.js";
import { FerruleError } from "../../errors.js";
import { rasterFrames } from "../../imaging/index.js";
import type { Artifact } from "../store/artifact.js";
import { nodeName } from "../store/artifact-spec.js";
import { encodeScan } from "../store/npy-scan.js";
import { kernel, modelInputs } from "./node-common.js";
import { physicsOf } from "./raster-from-documents.js";
import { simulateScan } from "./simulate-scan.js";
import { documentDigest, rasterOf, type StudyRun } from "./study-run.js";
import type { TracerNode } from "./tracer-node.js";
import { responseOf } from "./tracer-physics.js";

/** phantom -> voltage, with the simulated tracer that is not the reconstruction's. */
export function scanNode(run: StudyRun, tracer: TracerNode, scan: StudyScan): Promise<Artifact> {
  const { loaded, store, progress, signal } = run;
  const { source } = scan;
  const settings = loaded.study.model.simulation;
  if (source.kind === "recorded")
    throw new FerruleError("InvalidValue", {
      ...loaded.study.placeOf(["scans"]),
      found: `the recorded scan "${scan.name}" (${source.dataPath})`,
      accepted: 'simulated scans ("phantom" and "seed"), for now: recorded data are not read yet',
    });
  if (settings === undefined)
    throw new FerruleError("MissingFact", {
      ...loaded.study.placeOf([]),
      path: "simulation",
      found: `the simulated scan "${scan.name}" without the block "simulation"`,
      accepted: "the block, as in the shipped study: ferrule new FOLDER --from four-spheres",
    });
  const phantom = source.kind === "phantom" ? loaded.phantoms.get(source.phantomPath) : undefined;
  const inputs = {
    ...modelInputs(run, tracer),
    ...(phantom === undefined ? {} : { phantom: documentDigest(phantom) }),
  };
  const options = { simulation: { ...settings, offsetGrid_m: [...settings.offsetGrid_m] }, seed: source.seed };
  const node = nodeName("scan", scan.name);
  return store.resolve(
    { node, method: "direct-summation", methodVersion: 1, kernel, inputs, options },
    async () => {
      const raster = rasterOf(loaded);
      const response = responseOf(tracer.model, settings.trueDiameterFactor);
      const problem = { raster, response, ...physicsOf(loaded.scanner.model, raster) };
      const onProgress = (part: number) => progress(`scan "${scan.name}" ${(100 * part).toFixed(0)} %`);
      const voltage_V = await simulateScan(phantom?.model, problem, {
        settings,
        seed: source.seed,
        signal,
        onProgress,
      });
      const frames = rasterFrames(raster).length;
      return encodeScan({
        voltage_V,
        frames,
        samples: raster.samplesPerPeriod,
        samplesPerPeriod: raster.samplesPerPeriod,
        frequency_Hz: raster.frequency_Hz,
        protocolDigest: documentDigest(loaded.protocol),
        seed: source.seed,
        origin: "simulated",
        invented: loaded.study.model.invented,
      });
    },
    { signal },
  );
}
