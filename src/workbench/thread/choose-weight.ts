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
  const choice = weightByDiscrepancy(model, pilot.rows, { noise_V: pilot.rowNoise_V, relativeModelError });
  return { ...choice, relativeModelError, pilotNoise_V: pilot.rowNoise_V };
}
