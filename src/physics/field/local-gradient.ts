import { FerruleError } from "../../errors.js";
import type { FieldFunction, Vector3 } from "../sources/source.js";

/** Weights of f(+kh) - f(-kh), k = 1, 2, ...: the highest-order formula on its points. */
const centralWeights = {
  2: [1 / 2],
  4: [2 / 3, -1 / 12],
  6: [3 / 4, -3 / 20, 1 / 60],
} as const;

export interface DifferenceOptions {
  /** Spacing of the difference formula. */
  readonly step_m: number;
  /** Order of the formula in `step_m`: 6, 12 or 18 field points a gradient. */
  readonly order?: keyof typeof centralWeights;
}

export interface LocalFields {
  /** mu0*H, T, [n, 3]. */
  readonly field_T: Float64Array;
  /** dB_i/dx_j, T/m, [n, 9], each 3 x 3 row-major. */
  readonly gradient_T_per_m: Float64Array;
}

/**
 * Field and gradient tensor at points, by central differences; the field is called once for all of them.
 *   dB_i/dx_j = sum_k w_k (B_i(r + k h e_j) - B_i(r - k h e_j)) / h;  order 6: w = 3/4, -3/20, 1/60
 *
 * @param points_m  [n, 3]
 * Valid for   smooth fields. With the nearest source at the distance d the order 6 leaves about 36 (h/d)^6 of |B|/d and
 *             rounding about 1e-16 d/h of it: h = d/100 gives 1e-11 or better, h = d/200 a few 1e-13.
 * Source      central differences, common practice (Taylor coefficients)
 * Checked by  local-gradient.test.ts (harmonic polynomials), checks/field-free (Maxwell pair, 30 digits)
 */
export function localFields(
  field: FieldFunction,
  points_m: Float64Array,
  { step_m, order = 6 }: DifferenceOptions,
): LocalFields {
  requirePoints(points_m, step_m);
  const weights = centralWeights[order];
  const n = points_m.length / 3;
  const perPoint = 1 + 6 * weights.length;
  const values = field(stencil(points_m, { step_m, reach: weights.length }));
  const field_T = new Float64Array(3 * n);
  const gradient_T_per_m = new Float64Array(9 * n);
  for (let p = 0; p < n; p++)
    for (let i = 0; i < 3; i++) {
      const first = 3 * p * perPoint + i;
      field_T[3 * p + i] = values[first];
      for (let j = 0; j < 3; j++) {
        let sum = 0;
        for (let k = 0; k < weights.length; k++) {
          const up = first + 3 * (1 + 2 * (3 * k + j));
          sum += weights[k] * (values[up] - values[up + 3]);
        }
        gradient_T_per_m[9 * p + 3 * i + j] = sum / step_m;
      }
    }
  return { field_T, gradient_T_per_m };
}

/** Gradient tensor dB_i/dx_j at one point, T/m, [9] row-major; see `localFields`. */
export function localGradient(field: FieldFunction, point_m: Vector3, options: DifferenceOptions): Float64Array {
  return localFields(field, Float64Array.from(point_m), options).gradient_T_per_m;
}

/** Each point, then for every distance k h and axis j the pair r + k h e_j, r - k h e_j. */
function stencil(points_m: Float64Array, { step_m, reach }: { step_m: number; reach: number }): Float64Array {
  const perPoint = 1 + 6 * reach;
  const out = new Float64Array(points_m.length * perPoint);
  for (let p = 0; p < points_m.length / 3; p++)
    for (let q = 0; q < perPoint; q++) {
      const at = 3 * (p * perPoint + q);
      for (let i = 0; i < 3; i++) out[at + i] = points_m[3 * p + i];
      if (q === 0) continue;
      const pair = Math.floor((q - 1) / 2);
      out[at + (pair % 3)] += (q % 2 === 1 ? 1 : -1) * (1 + Math.floor(pair / 3)) * step_m;
    }
  return out;
}

function requirePoints(points_m: Float64Array, step_m: number): void {
  if (points_m.length % 3 !== 0)
    throw new FerruleError("ShapeMismatch", {
      path: "points_m",
      found: `${points_m.length} values`,
      accepted: "three values a point, e.g. 6 for two points",
    });
  if (!(step_m > 0 && Number.isFinite(step_m)))
    throw new FerruleError("InvalidValue", {
      path: "step_m",
      found: String(step_m),
      accepted: "a positive length, e.g. 1e-4 (m)",
    });
}
