import { isSameState, type StateChange, type StateName, stateChange, stateWords } from "../../documents/index.js";
import { FerruleError } from "../../errors.js";
import { tikhonov } from "../../imaging/index.js";
import {
  answerIronMass,
  type CalibrationLine,
  calibrationLine,
  type IronMassAnswer,
  judgeScan,
  type ScanFit,
  withScanFit,
} from "../../measure/index.js";
import type { Artifact } from "../store/artifact.js";
import { nodeName } from "../store/artifact-spec.js";
import { weightOf } from "./map-nodes.js";
import { artifactOf, kernel, modelInputs, pretty, rowsOf, settingsOption } from "./node-common.js";
import { planRegions, readRegions, readVial } from "./read-regions.js";
import { type Reconstruction, requireSettings, type StudyRun } from "./study-run.js";
import type { TracerNode } from "./tracer-node.js";

/** What the answers step keeps. */
export interface RegionResults {
  readonly answers: readonly IronMassAnswer[];
  readonly calibration: CalibrationLine;
  /** [regions × regions] what each soft region collects of a unit mass in each contour */
  readonly transfer: readonly number[];
  readonly fit: ScanFit;
}

/** object scan and vials -> answers. */
export function answersNode(
  run: StudyRun,
  tracer: TracerNode,
  {
    name,
    scans,
    weight,
    reconstruction,
  }: { name: string; scans: ReadonlyMap<string, Artifact>; weight: Artifact; reconstruction: Reconstruction },
) {
  const { loaded, store, progress, signal } = run;
  const { settings, calibration } = requireSettings(loaded);
  const { regions, questions } = loaded.study.model;
  const used = [name, ...calibration.vials.map((vial) => vialScan(run, vial))];
  const digests = Object.fromEntries(used.map((scan) => [`scan ${scan}`, artifactOf(scans, scan).digest]));
  const { document } = loaded.study;
  return store.resolve(
    {
      node: nodeName("answers", name),
      method: "iron-mass-linear",
      methodVersion: 2,
      kernel,
      inputs: { ...modelInputs(run, tracer), weight: weight.digest, ...digests },
      options: {
        reconstruction: settingsOption(run),
        regions: document.regions as never,
        questions: document.questions as never,
        calibration: document.calibration as never,
        states: [...new Set(used)].map((scan) => stateOf(run, tracer, scan)) as never,
      },
    },
    async () => {
      const { geometry } = reconstruction;
      const model = await reconstruction.model();
      const solver = tikhonov(model, { relativeWeight: weightOf(weight).relativeWeight });
      progress("regions, calibration and budgets");
      const plan = planRegions(model, solver, { regions, calibration, settings, widerGeometry: reconstruction.wider });
      const points = calibration.vials.map((vial) =>
        readVial(plan, rowsOf(artifactOf(scans, vialScan(run, vial)), model), { geometry, vial }),
      );
      const line = calibrationLine(points, { stockRelativeUncertainty: calibration.stockAssayRelativeUncertainty });
      const scan = rowsOf(artifactOf(scans, name), model);
      const readings = readRegions(plan, scan, { geometry, name });
      const fit = judgeScan(model, solver, {
        rows: scan.rows,
        noise_V: scan.totalRowNoise_V,
        relativeModelError: weightOf(weight).relativeModelError,
        regions: plan.regions,
        readings_kg: readings.map(({ reading_kg }) => reading_kg),
        halo: { across_m: settings.haloAcross_m, along_m: settings.haloAlong_m },
      });
      const change = stateChangeOf(run, tracer, name);
      const asked = new Set(questions.map(({ region }) => region));
      const answers = readings
        .filter(({ region }) => asked.has(region))
        .map((reading) => withScanFit(answerIronMass(reading, line, { signalRatio: change.ratio }), fit))
        .map((answer) => ({ ...answer, advisories: [...answer.advisories, ...change.advisories] }));
      const results: RegionResults = { answers, calibration: line, transfer: [...plan.regions.transfer], fit };
      return { "answers.json": pretty(results) };
    },
    { signal },
  );
}

/** What the tracer was in during a scan: as the study states it, else the tracer's own environment. */
function stateOf({ loaded }: StudyRun, { model }: TracerNode, scan: string): StateName {
  const stated = loaded.study.model.scans.find(({ name }) => name === scan)?.state;
  return stated ?? { medium: model.environment.medium, temperature_K: model.environment.temperature_K };
}

/** From the state of the vials to that of the object; vials in two states make no one line. */
function stateChangeOf(run: StudyRun, tracer: TracerNode, object: string): StateChange {
  const { vials } = requireSettings(run.loaded).calibration;
  const [first, ...others] = vials.map((vial) => stateOf(run, tracer, vialScan(run, vial)));
  const odd = others.findIndex((state) => !isSameState(first, state));
  if (odd >= 0)
    throw new FerruleError("Conflict", {
      ...run.loaded.study.placeOf(["calibration", "vials"]),
      found: `the vial "${vials[odd + 1].label}" in ${stateWords(others[odd])}, the first in ${stateWords(first)}`,
      accepted: "vials that were all scanned in one state",
    });
  return stateChange(tracer.model, first, stateOf(run, tracer, object));
}

/** JSON has no infinity: degrees of freedom without limit are written as null and read back as Infinity. */
export function resultsOf(artifact: Artifact): RegionResults {
  const revive = (key: string, value: unknown) =>
    value === null && /degreesOfFreedom$/i.test(key) ? Number.POSITIVE_INFINITY : value;
  return JSON.parse(artifact.readText("answers.json"), revive) as RegionResults;
}

/** The scan that holds a vial: named by it, or the only calibration scan. */
function vialScan({ loaded }: StudyRun, vial: { readonly label: string; readonly scan?: string | undefined }): string {
  if (vial.scan !== undefined) return vial.scan;
  throw new FerruleError("MissingFact", {
    ...loaded.study.placeOf(["calibration", "vials"]),
    found: `the vial "${vial.label}" without a scan`,
    accepted: '"scan": the name of the calibration scan that holds this vial alone',
  });
}
