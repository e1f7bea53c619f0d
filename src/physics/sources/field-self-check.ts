import { centralDifference } from "./central-difference.js";
import type { FieldFunction, Vector3 } from "./source.js";

export interface FieldSelfCheck {
  /** |div B| and |curl B|, relative to the size of the gradient tensor or |B|/scale, whichever is larger. */
  readonly divergence: number;
  readonly curl: number;
}

/**
 * Whether a field can be one of free space near a point: div B = 0 and curl B = 0, by central differences.
 *
 * @param point_m  centre of the check
 * @param scale_m  distance over which the field is smooth, e.g. to the nearest source; samples lie within a tenth of it
 *
 * Valid for   any field given by values; a tabulated one shows the error of its interpolation here. A field of ours gives
 *             below 1e-11. Inside a winding the curl is mu0·j and does not vanish.
 * Source      Maxwell's equations
 * Checked by  field-self-check.test.ts
 */
export function fieldSelfCheck(field: FieldFunction, point_m: Vector3, scale_m: number): FieldSelfCheck {
  const at = new Float64Array(3);
  const value = new Float64Array(3);
  const add = (x: number, y: number, z: number, sum: Float64Array) => {
    at[0] = x;
    at[1] = y;
    at[2] = z;
    field(at, value);
    for (let i = 0; i < 3; i++) sum[i] += value[i];
  };
  const g = centralDifference(add, point_m, scale_m / 80);
  const here = Math.hypot(...field(Float64Array.from(point_m)));
  const size = Math.max(Math.hypot(...g), here / scale_m);
  if (size === 0) return { divergence: 0, curl: 0 };
  return {
    divergence: Math.abs(g[0] + g[4] + g[8]) / size,
    curl: Math.hypot(g[7] - g[5], g[2] - g[6], g[3] - g[1]) / size,
  };
}
