import { FerruleError } from "../../errors.js";

/** Equally spaced points of a plane parallel to two scanner axes; the ends are points of the grid. */
export interface PlaneGrid {
  /** First letter: across (columns); second: up (rows). */
  readonly plane: "xy" | "xz" | "yz";
  /** Rows (up), columns (across). */
  readonly shape: readonly [number, number];
  readonly across_m: readonly [number, number];
  readonly up_m: readonly [number, number];
  /** Place on the third axis; default 0. */
  readonly offset_m?: number;
}

/** A grid with one number a point, row-major, columns fastest. */
export interface PlaneValues extends PlaneGrid {
  readonly values: Float64Array;
}

const planeAxes = { xy: [0, 1, 2], xz: [0, 2, 1], yz: [1, 2, 0] } as const;

/** Points of the grid, [rows * columns, 3], in the order of the values. */
export function planePoints({ plane, shape: [rows, columns], across_m, up_m, offset_m = 0 }: PlaneGrid): Float64Array {
  if (!(Number.isInteger(rows) && Number.isInteger(columns) && rows >= 1 && columns >= 1))
    throw new FerruleError("ShapeMismatch", {
      path: "shape",
      found: `[${rows}, ${columns}]`,
      accepted: "two whole numbers of points, e.g. [65, 65]",
    });
  const [across, up, off] = planeAxes[plane];
  const points = new Float64Array(3 * rows * columns);
  for (let i = 0; i < rows; i++)
    for (let j = 0; j < columns; j++) {
      const at = 3 * (i * columns + j);
      points[at + across] = between(across_m, j, columns);
      points[at + up] = between(up_m, i, rows);
      points[at + off] = offset_m;
    }
  return points;
}

const between = ([from, to]: readonly [number, number], k: number, n: number): number =>
  n === 1 ? (from + to) / 2 : from + ((to - from) * k) / (n - 1);
