import { FerruleError } from "../../errors.js";
import { readNpy } from "../../formats/index.js";
import { allanDeviation, type RelativeInstability } from "../../measure/index.js";
import { readInput } from "../store/read-input.js";

/** Fewest empties from which an averaging behaviour can be told. */
const fewest = 8;

/**
 * Allan deviation of recorded empties over their mean, at the averaging times that the series allows.
 *
 * @param file  NPY array of one dimension: the background's amplitude in successive, evenly spaced empties, in any unit
 * @param interval_s  from one empty to the next
 * @throws FerruleError  InvalidFile; ShapeMismatch; NotIdentifiable for a mean of zero
 */
export function instabilityFromEmpties(file: string, interval_s: number): RelativeInstability[] {
  const { shape, data } = readNpy(readInput(file), { file });
  if (shape.length !== 1 || data.length < fewest)
    throw new FerruleError("ShapeMismatch", {
      file,
      found: `an array of shape [${shape.join(", ")}]`,
      accepted: `one dimension, at least ${fewest} empties`,
    });
  const values = Float64Array.from(data, Number);
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  if (!(Number.isFinite(mean) && mean !== 0))
    throw new FerruleError("NotIdentifiable", {
      file,
      found: `a mean of ${mean}`,
      accepted: "amplitudes of a background whose mean is not zero: a relative deviation is over that mean",
    });
  return allanDeviation(values, { interval_s }).map(({ time_s, deviation }) => ({
    time_s,
    relativeDeviation: deviation / Math.abs(mean),
  }));
}
