import { FerruleError } from "../../errors.js";
import {
  compressData,
  type DiscrepancyChoice,
  fullRasterOperator,
  type RasterGeometry,
  type RasterModel,
  tikhonov,
  weightByDiscrepancy,
} from "../../imaging/index.js";
import type { ScanRows } from "./voltage-rows.js";

export interface FrozenWeight extends DiscrepancyChoice {
  /** Relative voltage error that one standard uncertainty of the tracer's width causes on the pilot. */
  readonly relativeModelError: number;
  readonly pilotNoise_V: number;
}

/** Relative weight of the first look at the pilot, from which the model's voltage error is taken. */
const firstLook = 1e-2;

/**
 * Regularisation weight from the pilot scan by the discrepancy principle, noise and model error together. It is chosen
 * once, on a scan that no answer is about, and then frozen: never by looking at a mass.
 */
export function chooseWeight(model: RasterModel, pilot: ScanRows, widerGeometry: RasterGeometry): FrozenWeight {
  const { estimate } = tikhonov(model, { relativeWeight: firstLook }).invert(pilot.rows);
  const predicted = model.operator.forward(estimate);
  const wider = compressData(fullRasterOperator(widerGeometry).forward(estimate), model.compression);
  let change = 0;
  let size = 0;
  for (let i = 0; i < predicted.length; i++) {
    change += (wider[i] - predicted[i]) ** 2;
    size += predicted[i] ** 2;
  }
  const relativeModelError = Math.sqrt(change / size);
  const noise_V = pilot.totalRowNoise_V;
  const choice = weightByDiscrepancy(model, pilot.rows, { noise_V, relativeModelError });
  if (choice.outcome === "target-below-range") refuseUnexplained(choice);
  return { ...choice, relativeModelError, pilotNoise_V: noise_V };
}

/** The smallest weight would amplify noise most, just when the model is known to be wrong: no weight is better. */
function refuseUnexplained({ trials, target2 }: DiscrepancyChoice): never {
  const best = trials.reduce((least, { residual2 }) => Math.min(least, residual2), Number.POSITIVE_INFINITY);
  throw new FerruleError("NotIdentifiable", {
    path: "reconstruction.widthUncertainty",
    found: `a pilot scan that no map explains: the residual stays at ${Math.sqrt(best / target2).toFixed(2)} times what noise and the tracer's width uncertainty allow`,
    accepted: "a pilot whose iron lies inside the map, and a width uncertainty that covers the tracer, e.g. 5 %",
  });
}
