import { gridOf, nativeSignalMap, tikhonov, toWorldOrder, voxelStandardDeviation } from "../../imaging/index.js";
import type { Artifact } from "../store/artifact.js";
import { nodeName } from "../store/artifact-spec.js";
import { encodeMap } from "../store/npy-map.js";
import { chooseWeight, type FrozenWeight } from "./choose-weight.js";
import { kernel, modelInputs, pretty, rowsOf, settingsOption } from "./node-common.js";
import type { Reconstruction, StudyRun } from "./study-run.js";
import type { TracerNode } from "./tracer-node.js";

/** pilot scan -> frozen regularisation weight. */
export function weightNode(
  run: StudyRun,
  tracer: TracerNode,
  { pilot, reconstruction }: { pilot: Artifact; reconstruction: Reconstruction },
) {
  const { store, progress, signal } = run;
  return store.resolve(
    {
      node: "weight",
      method: "discrepancy-on-pilot",
      methodVersion: 2,
      kernel,
      inputs: { ...modelInputs(run, tracer), pilot: pilot.digest },
      options: settingsOption(run),
    },
    async () => {
      const model = await reconstruction.model();
      progress("regularisation weight from the pilot scan");
      return { "weight.json": pretty(chooseWeight(model, rowsOf(pilot, model), reconstruction.wider)) };
    },
    { signal },
  );
}

export const weightOf = (artifact: Artifact) => JSON.parse(artifact.readText("weight.json")) as FrozenWeight;

/** scan -> iron map with its uncertainty, and the native signal map beside it. */
export function mapNode(
  run: StudyRun,
  tracer: TracerNode,
  {
    name,
    scan,
    weight,
    reconstruction,
  }: { name: string; scan: Artifact; weight: Artifact; reconstruction: Reconstruction },
) {
  const { store, progress, signal } = run;
  return store.resolve(
    {
      node: nodeName("map", name),
      method: "tikhonov-and-x-space",
      methodVersion: 1,
      kernel,
      inputs: { ...modelInputs(run, tracer), scan: scan.digest, weight: weight.digest },
      options: settingsOption(run),
    },
    async () => {
      const { geometry } = reconstruction;
      const model = await reconstruction.model();
      progress(`map of "${name}"`);
      const rows = rowsOf(scan, model);
      const solver = tikhonov(model, { relativeWeight: weightOf(weight).relativeWeight });
      const solved = solver.invert(rows.rows);
      const predicted = model.operator.forward(solved.estimate);
      const sd = voxelStandardDeviation(model, solver.weight, rows.rowNoise_V);
      const grid = gridOf(geometry);
      const iron = toWorldOrder(geometry, solved.estimate);
      const signalValues = toWorldOrder(geometry, nativeSignalMap(rows.prepared.frames, geometry));
      const facts = {
        outcome: solved.outcome,
        iterations: solved.iterations,
        relativeResidualOfNormalEquations: solved.relativeResidual,
        relativeResidual: relativeDifference(predicted, rows.rows),
        rowNoise_V: rows.rowNoise_V,
        sampleNoise_V: rows.prepared.noise_V,
        blocksOfEmpties: rows.prepared.blocks,
        quadratureRatio: rows.quadratureRatio,
        relativeWeight: solver.relativeWeight,
      };
      return {
        ...encodeMap(
          { kind: "iron", unit: "kg/m3", grid, values: iron, standardUncertainty: toWorldOrder(geometry, sd) },
          "iron",
        ),
        ...encodeMap({ kind: "signal", unit: "A.m2/T", grid, values: signalValues }, "signal"),
        "facts.json": pretty(facts),
      };
    },
    { signal },
  );
}

function relativeDifference(a: Float64Array, b: Float64Array): number {
  let difference = 0;
  let size = 0;
  for (let i = 0; i < b.length; i++) {
    difference += (a[i] - b[i]) ** 2;
    size += b[i] ** 2;
  }
  return Math.sqrt(difference / size);
}
