import { type RasterModel, type TikhonovSolver, voxelVolume_m3 } from "../../imaging/index.js";
import type { IronMassAnswer } from "../answer.js";
import { innerProduct, massFunctional } from "../regions/mass-functional.js";
import { type Halo, softRegionWeights } from "../regions/soft-region.js";
import type { RegionEstimators } from "./region-estimators.js";

/** Whether the model explains a scan at all, and how much iron it sees outside the regions. */
export interface ScanFit {
  /** ‖A ĉ − y‖ over what noise and one standard uncertainty of the tracer's width allow; near 1 for a scan like the pilot. */
  readonly misfit: number;
  /** Uncalibrated mass that the map holds outside every region and its halo once the regions' iron is taken out, kg. */
  readonly outside_kg: number;
  readonly outsideNoise_kg: number;
  /** Sum of the regions' magnitudes, kg. */
  readonly inside_kg: number;
}

/** Above the first a caution, above the second no decision. Common sense, not a standard: the pilot itself is at 1. */
const misfitLimits = { caution: 1.25, withhold: 1.75 };
const outsideLimits = { caution: 0.1, withhold: 0.5 };

export function judgeScan(
  model: RasterModel,
  solver: TikhonovSolver,
  {
    rows,
    noise_V,
    relativeModelError,
    regions,
    readings_kg,
    halo,
  }: {
    rows: Float64Array;
    /** sd of a row, empties included, V */
    noise_V: number;
    relativeModelError: number;
    regions: RegionEstimators;
    readings_kg: readonly number[];
    halo: Halo;
  },
): ScanFit {
  const predicted = model.operator.forward(solver.invert(rows).estimate);
  const left = rows.map((value, i) => value - predicted[i]);
  const allowed2 = rows.length * noise_V ** 2 + relativeModelError ** 2 * innerProduct(rows, rows);
  const unexplained = rows.slice();
  regions.responses.forEach((response, j) => {
    for (let i = 0; i < unexplained.length; i++) unexplained[i] -= readings_kg[j] * response[i];
  });
  const covered = regions.regions.map(({ shape }) => softRegionWeights(model.geometry, shape, halo));
  const volume = voxelVolume_m3(model.geometry);
  const weights = Float64Array.from({ length: covered[0]?.length ?? 0 }, (_, v) =>
    Math.max(0, volume - covered.reduce((sum, weight) => sum + weight[v], 0)),
  );
  const { compressed } = massFunctional(model, solver, { label: "outside", weights });
  return {
    misfit: Math.sqrt(innerProduct(left, left) / allowed2),
    outside_kg: innerProduct(compressed, unexplained),
    outsideNoise_kg: noise_V * Math.sqrt(innerProduct(compressed, compressed)),
    inside_kg: readings_kg.reduce((sum, mass) => sum + Math.abs(mass), 0),
  };
}

/** An answer with what the scan as a whole says about it: cautions, or no decision. */
export function withScanFit(answer: IronMassAnswer, fit: ScanFit): IronMassAnswer {
  const { misfit, outside_kg, outsideNoise_kg, inside_kg } = fit;
  const isSeen = Math.abs(outside_kg) > 4 * outsideNoise_kg;
  const share = Math.abs(outside_kg) / inside_kg;
  const advisories: string[] = [];
  if (misfit > misfitLimits.caution)
    advisories.push(
      `the map leaves ${misfit.toFixed(2)} times the voltage unexplained that noise and the tracer's width allow: iron outside the map, or a wrong model`,
    );
  if (isSeen && share > outsideLimits.caution)
    advisories.push(
      `about ${(outside_kg * 1e9).toPrecision(2)} ug Fe (uncalibrated) lies in the map outside the regions; its spill-over is not corrected for`,
    );
  const isWithheld = misfit > misfitLimits.withhold || (isSeen && share > outsideLimits.withhold);
  if (isWithheld) advisories.push("the decision is withheld: the scan holds what the model does not");
  return {
    ...answer,
    decision: isWithheld ? "withheld" : answer.decision,
    advisories: [...answer.advisories, ...advisories],
  };
}
