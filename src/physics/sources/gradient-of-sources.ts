import { centralDifference } from "./central-difference.js";
import { clearance_m } from "./clearance.js";
import { fieldEmitter } from "./field-of-sources.js";
import type { FieldSource, Vector3 } from "./source.js";

/**
 * Gradient tensor of the field of currents and magnets: differences of tenth order, each source with a step of its own
 * that is an eightieth of the distance to that source's surface.
 *
 * @returns a function of a point: [9] row-major, dB_i/dx_j, T/m
 *
 * Valid for   every point off the sources' surfaces (there NaN). Error about 1e-13 of Σ|B_i|/distance_i
 *             for currents, 1e-10 at worst for magnets (80 times the error of their field). In free space the
 *             tensor is traceless and symmetric; inside a winding the curl is mu0·j.
 * Source      `centralDifference`
 * Checked by  gradient-of-sources.test.ts (closed form on a loop's axis, facts L5, L6), checks/coil-fields
 */
export function gradientFunction(sources: readonly FieldSource[]): (point_m: Vector3) => Float64Array {
  const prepared = sources.map((source, i) => ({ source, emit: fieldEmitter(source, `sources.${i}`) }));
  return (point_m) => {
    const total = new Float64Array(9);
    for (const { source, emit } of prepared) {
      const step_m = Math.abs(clearance_m([source], point_m)) / 80;
      const part = centralDifference(emit, point_m, step_m);
      for (let i = 0; i < 9; i++) total[i] += part[i];
    }
    return total;
  };
}

/** Gradient tensor at one point; `gradientFunction` prepares the sources once for many. */
export function gradientOfSources(sources: readonly FieldSource[], point_m: Vector3): Float64Array {
  return gradientFunction(sources)(point_m);
}
