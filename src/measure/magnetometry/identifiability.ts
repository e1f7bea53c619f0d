import type { LeastSquaresResult } from "../../numerics/index.js";

/**
 * Names of the parameters that the data do not determine: those that float together without changing the fit, and those
 * whose standard uncertainty exceeds what they could be about - their own value or, for the background, which may well
 * be zero, the saturation spread over the measured fields.
 *
 * A wild value with a wild uncertainty is what a curve without curvature gives; it must not pass for a measurement.
 */
export function undeterminedNames(fit: LeastSquaresResult, field_T: Float64Array): string[] {
  const { floating, standardErrors, parameters, atBound, names } = fit;
  const floats = new Set(floating.flatMap((direction) => direction.parameters.map(({ name }) => name)));
  const largestField_T = field_T.reduce((most, field) => Math.max(most, Math.abs(field)), 0);
  const reach = (name: string, j: number): number =>
    name === "background-slope" ? parameters[0] / largestField_T : Math.abs(parameters[j]);
  // Written so that NaN (no finite variance) counts as undetermined.
  return names.filter((name, j) => floats.has(name) || (!atBound[j] && !(standardErrors[j] <= reach(name, j))));
}
