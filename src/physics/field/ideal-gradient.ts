import { FerruleError } from "../../errors.js";

export type Axis = "x" | "y" | "z";
export const axes: readonly Axis[] = ["x", "y", "z"];
export const axisIndex = (axis: Axis): number => axes.indexOf(axis);

/**
 * Ideal selection field: mu0 H(r) = G r + shift, G constant.
 *
 * @param gradient_T_per_m  [9] row-major tensor of mu0·H; traceless and symmetric in free space (div B = 0, curl H = 0)
 */
export interface IdealGradient {
  readonly gradient_T_per_m: Float64Array;
}

/** A diagonal tensor, e.g. a field-free point (-G/2, -G/2, G) or a field-free line (G, -G, 0). */
export function diagonalGradient(diagonal_T_per_m: readonly [number, number, number]): IdealGradient {
  const [x, y, z] = diagonal_T_per_m;
  const scale = Math.max(Math.abs(x), Math.abs(y), Math.abs(z));
  if (!(scale > 0) || Math.abs(x + y + z) > 1e-6 * scale)
    throw new FerruleError("InvalidValue", {
      found: `a gradient (${x}, ${y}, ${z}) T/m whose trace is ${x + y + z} T/m`,
      accepted: "a traceless gradient, because the divergence of B is zero: e.g. (-3.5, -3.5, 7) T/m",
    });
  return { gradient_T_per_m: Float64Array.of(x, 0, 0, 0, y, 0, 0, 0, z) };
}

/** The diagonal, or a refusal: the line raster's kernel needs axes that do not mix. */
export function diagonalOf({ gradient_T_per_m: g }: IdealGradient): [number, number, number] {
  const mixed = Math.max(...[1, 2, 3, 5, 6, 7].map((i) => Math.abs(g[i])));
  if (mixed > 1e-9 * Math.max(Math.abs(g[0]), Math.abs(g[4]), Math.abs(g[8])))
    throw new FerruleError("InvalidValue", {
      found: `a gradient tensor with off-diagonal parts up to ${mixed} T/m`,
      accepted: "a tensor that is diagonal in the scanner's axes",
    });
  return [g[0], g[4], g[8]];
}

/** Field at a point, T: G r + shift. */
export function fieldAt(
  { gradient_T_per_m: g }: IdealGradient,
  [x, y, z]: readonly [number, number, number],
  [sx, sy, sz]: readonly [number, number, number],
): [number, number, number] {
  return [
    g[0] * x + g[1] * y + g[2] * z + sx,
    g[3] * x + g[4] * y + g[5] * z + sy,
    g[6] * x + g[7] * y + g[8] * z + sz,
  ];
}

/** Shift field that puts the field-free region at `point_m`: -G r. */
export function shiftFieldFor(gradient: IdealGradient, point_m: readonly [number, number, number]) {
  const [x, y, z] = fieldAt(gradient, point_m, [0, 0, 0]);
  return [-x, -y, -z] as [number, number, number];
}
