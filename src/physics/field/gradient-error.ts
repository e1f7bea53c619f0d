import { FerruleError } from "../../errors.js";
import type { FieldFunction, Vector3 } from "../sources/source.js";
import { type BoreCylinder, isInBore } from "./bore-cylinder.js";
import { type DifferenceOptions, localFields, localGradient } from "./local-gradient.js";
import { type PlaneGrid, type PlaneValues, planePoints } from "./plane-grid.js";
import { applied, frobenius } from "./three-by-three.js";

/** The ideal field an image is made with: B0 + G (r - center). */
export interface GradientReference {
  readonly center_m: Vector3;
  /** dB_i/dx_j, [9]. */
  readonly gradient_T_per_m: Float64Array;
}

/** The gradient at a place, as the reference for its surroundings. */
export function gradientReference(
  field: FieldFunction,
  center_m: Vector3,
  options: DifferenceOptions,
): GradientReference {
  return { center_m, gradient_T_per_m: localGradient(field, center_m, options) };
}

/**
 * Gradient error: how far the local gradient tensor is from the one the image is made with.
 *   eps(r) = ||J(r) - G||_F / ||G||_F,  J_ij = dB_i/dx_j at r
 * This is what we call "gradient error" everywhere. It is local: it says by what share a small object at r is drawn too
 * large or too small, and so how much its concentration is off. The other measure, `fieldErrors`, is the mean of the same
 * along the way from the centre: for a cubic term it reads a third of it, for a quintic a fifth; it has no value at the
 * centre and none along a field-free line. About 10 % of gradient error is common practice (from memory).
 *
 * @param points_m  [n, 3]; @returns [n]
 * Valid for   J to the accuracy of `localFields`
 * Source      derived
 * Checked by  gradient-error.test.ts (cubic and quintic terms), checks/field-free (Maxwell pair, 30 digits)
 */
export function gradientErrors(
  field: FieldFunction,
  points_m: Float64Array,
  { reference, ...difference }: DifferenceOptions & { reference: GradientReference },
): Float64Array {
  const g = reference.gradient_T_per_m;
  const norm = requiredNorm(g);
  const { gradient_T_per_m } = localFields(field, points_m, difference);
  return Float64Array.from({ length: points_m.length / 3 }, (_, p) => {
    let sum = 0;
    for (let i = 0; i < 9; i++) sum += (gradient_T_per_m[9 * p + i] - g[i]) ** 2;
    return Math.sqrt(sum) / norm;
  });
}

/**
 * Departure of the field from the linear one, relative to the linear one.
 *   |B(r) - B(center) - G (r - center)| / |G (r - center)|;  NaN where the denominator is 0
 *
 * @param points_m  [n, 3]; @returns [n]
 * Source      derived
 * Checked by  gradient-error.test.ts
 */
export function fieldErrors(
  field: FieldFunction,
  points_m: Float64Array,
  { reference }: { reference: GradientReference },
): Float64Array {
  const { center_m, gradient_T_per_m } = reference;
  requiredNorm(gradient_T_per_m);
  const start = field(Float64Array.from(center_m)).slice();
  const values = field(points_m);
  return Float64Array.from({ length: points_m.length / 3 }, (_, p) => {
    const linear = applied(
      gradient_T_per_m,
      [0, 1, 2].map((i) => points_m[3 * p + i] - center_m[i]),
    );
    const off = linear.map((value, i) => values[3 * p + i] - start[i] - value);
    return Math.hypot(...off) / Math.hypot(...linear);
  });
}

/** Gradient error (or field error) on a plane; NaN outside `within` when it is given. */
export function gradientErrorMap(
  field: FieldFunction,
  grid: PlaneGrid,
  {
    measure = "gradient",
    within,
    ...options
  }: DifferenceOptions & {
    reference: GradientReference;
    measure?: "gradient" | "field";
    within?: BoreCylinder;
  },
): PlaneValues {
  const points = planePoints(grid);
  const inside = [...Array(points.length / 3).keys()].filter(
    (p) => within === undefined || isInBore(within, points.subarray(3 * p, 3 * p + 3)),
  );
  const chosen = Float64Array.from(inside.flatMap((p) => [points[3 * p], points[3 * p + 1], points[3 * p + 2]]));
  const errors = measure === "gradient" ? gradientErrors(field, chosen, options) : fieldErrors(field, chosen, options);
  const values = new Float64Array(points.length / 3).fill(Number.NaN);
  inside.forEach((p, k) => {
    values[p] = errors[k];
  });
  return { ...grid, values };
}

function requiredNorm(gradient_T_per_m: Float64Array): number {
  const norm = frobenius(gradient_T_per_m);
  if (norm > 0 && gradient_T_per_m.length === 9) return norm;
  throw new FerruleError("InvalidValue", {
    path: "reference.gradient_T_per_m",
    found: `a gradient of ${norm} T/m`,
    accepted: "a 3 x 3 tensor that is not zero, e.g. that of the field-free point",
  });
}
