import type { PhantomModel, SimulationSettings } from "../../documents/index.js";
import {
  cutIntoPoints,
  type DirectSummationProblem,
  directSummationSteps,
  type IronObject,
  type Nuisances,
  recordVoltage,
} from "../../imaging/index.js";
import { finishInSlices, stream } from "../../numerics/index.js";

/** Objects of a phantom as the direct summation takes them. */
export function ironObjects(phantom: PhantomModel): IronObject[] {
  return phantom.objects.map((object): IronObject => {
    const { center_m, ironMass_kg: iron_kg } = object;
    if (object.kind === "sphere") return { kind: "sphere", center_m, diameter_m: object.diameter_m, iron_kg };
    if (object.kind === "box") return { kind: "box", center_m, size_m: object.size_m, iron_kg };
    return { kind: "point", center_m, iron_kg };
  });
}

export function nuisancesOf(settings: SimulationSettings, noise_V_per_rtHz: number): Nuisances {
  return {
    noise_V_per_rtHz,
    feedthrough_V: settings.feedthrough_V,
    distortion: settings.harmonicDistortion,
    driftAmplitude: settings.driftAmplitude,
    drift_s: settings.drift_s,
  };
}

/**
 * A simulated scan: direct summation over points of iron with the simulated tracer's response, then feedthrough, drift,
 * receive filter and noise.
 *
 * @returns [frames × samples] in the order of acquisition, V
 */
export async function simulateScan(
  phantom: PhantomModel | undefined,
  problem: DirectSummationProblem & { readonly noise_V_per_rtHz: number },
  {
    settings,
    seed,
    signal,
    onProgress,
  }: { settings: SimulationSettings; seed: number; signal?: AbortSignal; onProgress?: (fraction: number) => void },
): Promise<Float64Array> {
  const voltage =
    phantom === undefined
      ? undefined
      : await finishInSlices(
          directSummationSteps(cutIntoPoints(ironObjects(phantom), settings.offsetGrid_m), problem),
          { signal, onProgress },
        );
  const nuisances = nuisancesOf(settings, problem.noise_V_per_rtHz);
  return recordVoltage(voltage, problem.raster, nuisances, stream(seed));
}
