import { FerruleError } from "../../errors.js";
import type { FieldFunction, Vector3 } from "../sources/source.js";
import type { GradientReference } from "./gradient-error.js";
import { type DifferenceOptions, localFields } from "./local-gradient.js";
import { applied, column, decompose, determinant, product, pseudoInverse, rankOf } from "./three-by-three.js";

/**
 * How an image made with an ideal gradient draws a real one.
 *
 * The object stays, uniform shift and drive fields s(t) are added. A tracer at r sees B(r) + s(t), the same at all times
 * as one at
 *   q(r) = center + G^{-1} B(r)
 * would see in the ideal field G (r - center). With an even receive sensitivity the two give the same signal, so any
 * method that is right in the ideal field draws the iron of r at q(r). Its map is therefore the true one, moved by q:
 *   - total iron: untouched, as long as q(r) lies within the map;
 *   - a small object at r: its size and shape multiplied by dq/dr = G^{-1} J(r);
 *   - its concentration: divided by |det G^{-1} J(r)|, so multiplied by |det G / det J(r)|;
 *   - blur: that of the ideal field in the map, hence J^{-1} G times it in the object.
 * Where J is weaker than G an object is drawn smaller, denser and nearer to the centre, and the object's own resolution is
 * worse by as much. Where det J changes sign the map folds: two places are drawn on one.
 *
 * If a bed moves the object instead of shift fields, every patch is taken near the centre: only the patch's own extent
 * (drive amplitude over gradient) counts, and r here runs over that patch alone.
 *
 * On a field-free line the position along the line is not encoded: it is kept as it is, and G^{-1} acts across.
 */
export interface Distortion {
  /** Where the iron of each point is drawn, [n, 3]. */
  readonly image_m: Float64Array;
  /** |q - r|, [n]. */
  readonly positionError_m: Float64Array;
  /** dq/dr = G^{-1} J, [n, 9]: apparent size per true size; its singular values are the extreme magnifications. */
  readonly magnification: Float64Array;
  /** Apparent over true concentration, 1/|det(dq/dr)|, [n]. */
  readonly concentrationFactor: Float64Array;
  /** Points at which det(dq/dr) <= 0: the map folds before them. */
  readonly folded: number;
}

export interface DistortionOptions {
  readonly reference: GradientReference;
  /** Gradients below this part of the largest count as a line's own direction; default 0.1, as `findFieldFreeRegion`. */
  readonly weakShare?: number;
}

/**
 * @param points_m  [n, 3]
 * Valid for   uniform shift and drive fields, even receive sensitivity, tracer without memory of other places
 * Source      derived (see `Distortion`)
 * Checked by  image-distortion.test.ts (mapped balls, a raster of two points), checks/field-free
 */
export function imageDistortion(
  field: FieldFunction,
  points_m: Float64Array,
  { reference, weakShare, ...difference }: DistortionOptions & DifferenceOptions,
): Distortion {
  const toImage = imageMap({ reference, weakShare });
  const { field_T, gradient_T_per_m } = localFields(field, points_m, difference);
  const n = points_m.length / 3;
  const image_m = toImage.positions(points_m, field_T);
  const positionError_m = new Float64Array(n);
  const magnification = new Float64Array(9 * n);
  const concentrationFactor = new Float64Array(n);
  let folded = 0;
  for (let p = 0; p < n; p++) {
    const at = 3 * p;
    positionError_m[p] = Math.hypot(...[0, 1, 2].map((i) => image_m[at + i] - points_m[at + i]));
    const scale = toImage.scale(gradient_T_per_m.subarray(9 * p, 9 * p + 9));
    magnification.set(scale, 9 * p);
    const volume = determinant(scale);
    if (volume <= 0) folded++;
    concentrationFactor[p] = 1 / Math.abs(volume);
  }
  return { image_m, positionError_m, magnification, concentrationFactor, folded };
}

/** Where the iron of each point is drawn, [n, 3], from one field value a point; see `imageDistortion`. */
export function imagePositions(field: FieldFunction, points_m: Float64Array, options: DistortionOptions): Float64Array {
  return imageMap(options).positions(points_m, field(points_m));
}

interface ImageMap {
  positions(points_m: Float64Array, field_T: Float64Array): Float64Array;
  scale(gradient_T_per_m: Float64Array): Float64Array;
}

/** q(r) = center + G^+ B(r) + T (r - center), T the projection on a line's own direction (0 for a point). */
function imageMap({ reference, weakShare = 0.1 }: DistortionOptions): ImageMap {
  const singular = decompose(reference.gradient_T_per_m);
  const rank = rankOf(singular.s, weakShare);
  if (rank < 2)
    throw new FerruleError("InvalidValue", {
      path: "reference.gradient_T_per_m",
      found: `a gradient in ${rank} direction${rank === 1 ? "" : "s"} only`,
      accepted: "the gradient of a field-free point (three directions) or line (two)",
    });
  const inverse = pseudoInverse(singular, rank);
  const kept = new Float64Array(9);
  if (rank === 2) {
    const line = column(singular.v, 2);
    for (let i = 0; i < 9; i++) kept[i] = line[Math.floor(i / 3)] * line[i % 3];
  }
  const center = reference.center_m;
  return {
    positions: (points_m, field_T) => {
      const out = new Float64Array(points_m.length);
      for (let at = 0; at < out.length; at += 3) {
        const across = applied(inverse, field_T.subarray(at, at + 3));
        const off: Vector3 = [points_m[at] - center[0], points_m[at + 1] - center[1], points_m[at + 2] - center[2]];
        const own = applied(kept, off);
        for (let i = 0; i < 3; i++) out[at + i] = center[i] + across[i] + own[i];
      }
      return out;
    },
    scale: (gradient_T_per_m) => product(inverse, gradient_T_per_m).map((value, i) => value + kept[i]),
  };
}
