import { relativeMagnetisation, xiPerTesla } from "../../physics/index.js";
import type { FieldGrid } from "./field-grid.js";

/** What turns a fitted moment into a diameter; taken as known during the fit. */
export interface CoreConditions {
  readonly coreSaturation_A_per_m: number;
  readonly temperature_K: number;
}

/** Order of the fitted parameters everywhere. */
export const logNormalParameters = ["saturation", "median-diameter", "log-sd", "background-slope"] as const;

/** Diameters beyond these are not magnetic cores that a magnetisation curve can size. */
export const diameterBounds_m = { lower: 0.5e-9, upper: 200e-9 } as const;

/** Below 0.001 a log-normal cannot be told from one size; 1.2 is where the average over sizes stops being proved. */
export const logSdBounds = { lower: 1e-3, upper: 1.2 } as const;

/**
 * Magnetisation of independent log-normal cores with a linear background.
 *   M(B) = S <d^3 L(xi)> / <d^3> + chi B,  xi = Ms pi d^3 B / (6 kB T),  B = mu0H, averages over particle numbers
 *
 * @param field_T  mu0H, T, shape [n]
 * @param parameters  [S, number-weighted median of d in m, standard deviation of ln d, chi per T]; S and chi B in the
 *                    unit of the curve
 * @param options.grid  of these fields: the average is computed on its nodes and interpolated (relative error 1e-11)
 * @returns magnetisation in the unit of the curve, shape [n]
 *
 * Valid for   equilibrium, no interaction, no hysteresis
 * Source      as `relativeMagnetisation`; linear background: common practice
 * Checked by  checks/curve-fit (independent model in Python)
 */
export function logNormalCurve(
  field_T: Float64Array,
  parameters: ArrayLike<number>,
  {
    coreSaturation_A_per_m: saturation_A_per_m,
    temperature_K,
    out = new Float64Array(field_T.length),
    grid,
  }: CoreConditions & {
    out?: Float64Array;
    grid?: FieldGrid;
  },
): Float64Array {
  const [S, medianDiameter_m, logSd, chi] = Array.from(parameters) as [number, number, number, number];
  const sizes = { kind: "lognormal", weighting: "number", medianDiameter_m, logSd } as const;
  const ensemble = { sizes, saturation_A_per_m, temperature_K };
  if (grid === undefined) relativeMagnetisation(field_T, ensemble, { out });
  else grid.interpolate(relativeMagnetisation(grid.nodes_T, ensemble), out);
  for (let i = 0; i < out.length; i++) out[i] = S * out[i] + chi * field_T[i];
  return out;
}

/** L(xi) = 1/2 at this xi (root of coth xi - 1/xi = 1/2). */
const xiAtHalf = 1.7967;

const clamp = (value: number, { lower, upper }: { lower: number; upper: number }): number =>
  Math.min(0.9 * upper, Math.max(1.1 * lower, value));

/**
 * Where to start: saturation from the largest value, diameter from the field at which half of it is reached, and that
 * for narrow, middling and broad distributions, because the minimum from one start need not be the lowest.
 */
export function logNormalStarts(
  { field_T, magnetisation }: { field_T: Float64Array; magnetisation: Float64Array },
  { coreSaturation_A_per_m, temperature_K }: CoreConditions,
): Float64Array[] {
  const largest = magnetisation.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  // Nearest to one half, because the curve may never rise above it or start beyond it.
  const distance = (i: number) => Math.abs(Math.abs(magnetisation[i]) - largest / 2);
  const nearest = Array.from(field_T.keys())
    .filter((i) => field_T[i] !== 0)
    .reduce((best, i) => (distance(i) < distance(best) ? i : best));
  const perCubicMetre = xiPerTesla(1, coreSaturation_A_per_m, temperature_K);
  const momentWeighted_m = Math.cbrt(xiAtHalf / (perCubicMetre * Math.abs(field_T[nearest])));
  return [0.1, 0.35, 0.7].map((logSd) => {
    const median_m = clamp(momentWeighted_m * Math.exp(-3 * logSd ** 2), diameterBounds_m);
    return Float64Array.of(largest, median_m, logSd, 0);
  });
}
