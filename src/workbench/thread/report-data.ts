import type { TracerModel } from "../../documents/index.js";
import { FerruleError } from "../../errors.js";
import { contains, type GridMap, scanTime_s } from "../../imaging/index.js";
import type { StudyReportData } from "../../report/index.js";
import { sizesWords } from "../predict/sizes-words.js";
import { predictStatic } from "../predict/static-prediction.js";
import type { Artifact } from "../store/artifact.js";
import { decodeMap } from "../store/npy-map.js";
import { resultsOf } from "./answers-node.js";
import { weightOf } from "./map-nodes.js";
import { artifactOf } from "./node-common.js";
import { physicsOf } from "./raster-from-documents.js";
import type { StudyRunResult } from "./run-study.js";
import { rasterOf } from "./study-run.js";

/** Everything that the report of one object scan is written from, gathered from the artifacts of a run. */
export function reportData(result: StudyRunResult, { version }: { version: string }): StudyReportData {
  const { loaded } = result.run;
  const { study, scanner, protocol } = loaded;
  const object = onlyObject(result);
  const map = artifactOf(result.maps, object);
  const facts = JSON.parse(map.readText("facts.json")) as MapFacts;
  const { answers, calibration } = resultsOf(artifactOf(result.answers, object));
  const raster = rasterOf(loaded);
  const weight = requireArtifact(result.weight, "weight");
  const { relativeWeight, outcome, target2, trials } = weightOf(weight);
  const physics = physicsOf(scanner.model, raster);
  const { x, y, z } = protocol.model.raster.axes;
  return {
    study: {
      name: study.model.name,
      description: study.model.description,
      invented: study.model.invented,
      notice: study.model.notice,
    },
    tracers: [
      tracerRow(result.tracer.model, result, "used"),
      ...loaded.comparisonTracers.map(({ model }) => tracerRow(model, result, "comparison")),
    ],
    scanner: {
      name: scanner.model.name,
      gradient_T_per_m: physics.gradient_T_per_m,
      driveAxis: raster.driveAxis,
      sensitivity_T_per_A: physics.sensitivity_T_per_A,
      noise_V_per_sqrtHz: physics.noise_V_per_rtHz,
      topology: scanner.model.topology,
      boreDiameter_m: scanner.model.boreDiameter_m,
      bandwidth_Hz: scanner.model.receive.find(({ axis }) => axis === raster.driveAxis)?.bandwidth_Hz,
    },
    protocol: {
      name: protocol.model.name,
      amplitude_T: raster.driveAmplitude_T,
      frequency_Hz: raster.frequency_Hz,
      scanTime_s: scanTime_s(raster),
      patches: protocol.model.raster.patchCount,
      fieldOfView_m: [x, y, z].map(({ from_m, to_m }) => to_m - from_m) as [number, number, number],
      periodsPerPatch: protocol.model.periodsPerPatch,
    },
    reconstruction: study.model.reconstruction,
    scans: [
      {
        name: object,
        role: "object",
        measuredNoise_V: facts.sampleNoise_V,
        blocksOfEmpties: facts.blocksOfEmpties,
        residualNorm_relative: facts.relativeResidual,
      },
    ],
    answers,
    truth: study.model.invented ? truthOf(result, object) : undefined,
    calibration,
    regularisation: { relativeWeight, outcome, target2, trials, pilot: pilotName(result), frozen: true },
    maps: { iron: mapOf(map, "iron"), signal: mapOf(map, "signal") },
    regions: study.model.regions,
    provenance: artifactsOf(result).map(({ node, key, digest, method, methodVersion }) => ({
      node,
      method,
      methodVersion,
      key,
      digest,
    })),
    seeds: study.model.scans.flatMap(({ name, source }) =>
      "seed" in source ? [{ scan: name, seed: source.seed }] : [],
    ),
    version,
    advisories: [
      ...study.model.advisories,
      ...result.tracer.model.advisories,
      ...scanner.model.advisories,
      ...threadAdvisories(result, facts),
    ],
  };
}

interface MapFacts {
  readonly sampleNoise_V: number;
  readonly blocksOfEmpties: number;
  readonly relativeResidual: number;
  readonly quadratureRatio: number;
}

/** What this thin thread does not do, and what the scan itself shows. */
function threadAdvisories({ run }: StudyRunResult, { quadratureRatio }: MapFacts): string[] {
  const list = [
    "forward model: ideal gradient and static (adiabatic) response; relaxation is not modelled, and a real tracer has some",
    "the uncertainty map holds coil noise of the patches only; region intervals also hold background, calibration, tracer width, shape and place",
    "iron outside the drawn regions is not accounted for in a region's spill-over",
  ];
  if (quadratureRatio > 1.3)
    list.push(
      `the out-of-phase voltage is ${quadratureRatio.toFixed(2)} times the noise: background left over, or a tracer that relaxes`,
    );
  if (run.loaded.study.model.invented) list.push("simulated voltages: the masses are answers about an invented scan");
  return list;
}

function tracerRow(
  tracer: TracerModel,
  { run }: StudyRunResult,
  role: "used" | "comparison",
): StudyReportData["tracers"][number] {
  const { driveAxis } = rasterOf(run.loaded);
  const { staticWidth_T, staticWidth_m, momentPerIron_A_m2_per_kg } = predictStatic(
    tracer,
    run.loaded.scanner.model,
    driveAxis,
  );
  const { sizes } = tracer.core;
  const order = (["x", "y", "z"] as const).map((axis, i) => ({ axis, width: staticWidth_m[i] ?? Number.NaN }));
  const [first, second] = order.filter(({ axis }) => axis !== driveAxis).map(({ width }) => width);
  return {
    name: tracer.name,
    role,
    coreSizes: sizesWords(sizes),
    momentPerIron_A_m2_per_kg,
    staticWidth_T: staticWidth_T ?? Number.NaN,
    staticWidthAlong_m: order.find(({ axis }) => axis === driveAxis)?.width ?? Number.NaN,
    staticWidthAcross_m: [first, second],
  };
}

/** What an invented study put into each region: the objects whose centre lies in it. */
function truthOf({ run: { loaded } }: StudyRunResult, object: string) {
  const scan = loaded.study.model.scans.find(({ name }) => name === object);
  const phantom = scan?.source.kind === "phantom" ? loaded.phantoms.get(scan.source.phantomPath) : undefined;
  if (phantom === undefined) return undefined;
  return loaded.study.model.regions.map(({ label, shape }) => ({
    region: label,
    iron_kg: phantom.model.objects
      .filter(({ center_m }) => contains({ ...shape, iron_kg: 0 }, center_m))
      .reduce((sum, { ironMass_kg }) => sum + ironMass_kg, 0),
  }));
}

function onlyObject({ answers, run }: StudyRunResult): string {
  const names = [...answers.keys()];
  if (names.length === 1) return names[0];
  throw new FerruleError("InvalidValue", {
    ...run.loaded.study.placeOf(["scans"]),
    found: `${names.length} object scans`,
    accepted: "one, for now: a report is about one scan",
  });
}

const pilotName = ({ run }: StudyRunResult) =>
  run.loaded.study.model.scans.find(({ role }) => role === "pilot")?.name ?? "pilot";

function mapOf<Kind extends GridMap["kind"]>(artifact: Artifact, kind: Kind): Extract<GridMap, { kind: Kind }> {
  const map = decodeMap(artifact, kind);
  if (map.kind === kind) return map as Extract<GridMap, { kind: Kind }>;
  throw new FerruleError("InvalidFile", { file: artifact.path(`${kind}.json`), found: map.kind, accepted: kind });
}

/** In the order of the thread. */
export function artifactsOf({ tracer, scans, weight, maps, answers }: StudyRunResult): Artifact[] {
  return [
    tracer.artifact,
    ...scans.values(),
    ...(weight === undefined ? [] : [weight]),
    ...maps.values(),
    ...answers.values(),
  ];
}

function requireArtifact(artifact: Artifact | undefined, step: string): Artifact {
  if (artifact !== undefined) return artifact;
  throw new FerruleError("MissingFact", {
    found: `a run without the step "${step}"`,
    accepted: "a run up to the answers",
  });
}
