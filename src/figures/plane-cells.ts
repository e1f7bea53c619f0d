import { FerruleError } from "../errors.js";
import { checkLengths } from "./check-lengths.js";
import type { Frame } from "./clip-line.js";
import type { Figure } from "./figure.js";

/** Named by its axes: the first runs across the picture, the second up. */
export type PlaneName = "xy" | "xz" | "yz";

/** Values at equally spaced places of a plane. */
export interface PlaneValues {
  readonly plane: PlaneName;
  /** Where the plane lies on the axis that is not in its name, m. */
  readonly at_m: number;
  /** [nRows, nColumns], 2 or more each; a row runs across, row 0 is the lowest. */
  readonly shape: readonly [number, number];
  /** Centres of the first and the last column, m. */
  readonly across_m: readonly [number, number];
  /** Centres of the first and the last row, m. */
  readonly up_m: readonly [number, number];
  /** Shape [nRows, nColumns], in SI; NaN where there is no value. */
  readonly values: Float64Array;
}

export interface PlaneAxes {
  readonly across: number;
  readonly up: number;
  readonly normal: number;
}

const axesByName: Readonly<Record<PlaneName, PlaneAxes>> = {
  xy: { across: 0, up: 1, normal: 2 },
  xz: { across: 0, up: 2, normal: 1 },
  yz: { across: 1, up: 2, normal: 0 },
};

export const axesOf = ({ plane }: Pick<PlaneValues, "plane">): PlaneAxes => axesByName[plane];

export const letterOf = (axis: number): string => "xyz"[axis];

type Spread = Pick<PlaneValues, "shape" | "across_m" | "up_m">;

const spaced = ([from, to]: readonly [number, number], count: number): Float64Array =>
  Float64Array.from({ length: count }, (_, i) => from + ((to - from) * i) / (count - 1));

/** Centres of columns and rows, mm. */
export const centresOf = ({ shape, across_m, up_m }: Spread): { x: Float64Array; y: Float64Array } => ({
  x: spaced(across_m, shape[1]).map((v) => v * 1e3),
  y: spaced(up_m, shape[0]).map((v) => v * 1e3),
});

/** Distances of neighbouring columns and rows, m. */
export const stepsOf = ({ shape, across_m, up_m }: Spread): readonly [number, number] => [
  (across_m[1] - across_m[0]) / (shape[1] - 1),
  (up_m[1] - up_m[0]) / (shape[0] - 1),
];

/** Outer faces of the cells, mm. */
export function frameOf(plane: Spread): Frame {
  const [across, up] = stepsOf(plane);
  const { across_m, up_m } = plane;
  return {
    left: (across_m[0] - across / 2) * 1e3,
    right: (across_m[1] + across / 2) * 1e3,
    low: (up_m[0] - up / 2) * 1e3,
    high: (up_m[1] + up / 2) * 1e3,
  };
}

/** @throws FerruleError ShapeMismatch, InvalidValue: no plane, more than three, or one that can't be drawn */
export function checkPlanes(slices: readonly PlaneValues[], { least = 1 }: { least?: number } = {}): void {
  if (slices.length < least || slices.length > 3) {
    const found = `${slices.length} planes`;
    throw new FerruleError("InvalidValue", { path: "slices", found, accepted: `${least} to 3 planes` });
  }
  slices.forEach(checkPlane);
}

function checkPlane({ shape, across_m, up_m, at_m, values }: PlaneValues, index: number): void {
  const path = `slices[${index}]`;
  const [rows, columns] = shape;
  if (!(Number.isInteger(rows) && Number.isInteger(columns) && rows > 1 && columns > 1)) {
    const accepted = "2 rows and 2 columns or more, such as [64, 64]";
    throw new FerruleError("InvalidValue", { path: `${path}.shape`, found: `[${rows}, ${columns}]`, accepted });
  }
  checkLengths({ [`${path}.values`]: values }, rows * columns, `${rows} rows of ${columns}`);
  for (const [side, [from, to]] of Object.entries({ across_m, up_m })) {
    if (Number.isFinite(from) && Number.isFinite(to) && from < to) continue;
    const accepted = "a range that ascends, such as [-0.05, 0.05] m";
    throw new FerruleError("InvalidValue", { path: `${path}.${side}`, found: `[${from}, ${to}] m`, accepted });
  }
  if (!Number.isFinite(at_m)) {
    const accepted = "the place of the plane on the axis normal to it, such as 0 m";
    throw new FerruleError("InvalidValue", { path: `${path}.at_m`, found: String(at_m), accepted });
  }
}

/** @throws FerruleError InvalidValue for a value below 0, or where no value is finite */
export function checkMagnitudes(slices: readonly PlaneValues[], what: string): void {
  slices.forEach(({ values }, i) => {
    const path = `slices[${i}].values`;
    const wrong = values.find((value) => value < 0 || value === Number.POSITIVE_INFINITY);
    if (wrong !== undefined) {
      throw new FerruleError("InvalidValue", {
        path,
        found: String(wrong),
        accepted: `${what}, 0 or above and finite`,
      });
    }
    if (!values.some(Number.isFinite)) {
      throw new FerruleError("InvalidValue", {
        path,
        found: "no finite value",
        accepted: `${what} in one cell or more`,
      });
    }
  });
}

/** Smallest and largest of the values that are finite. */
export function rangeOf(slices: readonly PlaneValues[]): [number, number] {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const { values } of slices)
    for (const value of values) {
      if (!Number.isFinite(value)) continue;
      low = Math.min(low, value);
      high = Math.max(high, value);
    }
  return [low, high];
}

/** A named quantity in the cells of every plane, one array for each. */
export interface PlaneColumn {
  readonly name: string;
  readonly unit: string;
  readonly values: readonly ArrayLike<number>[];
}

/** Every cell: which plane (from 0, left to right), place of its centre, and its numbers. */
export function columnsOfPlanes(slices: readonly PlaneValues[], quantities: readonly PlaneColumn[]): Figure["data"] {
  const lengths = slices.map(({ values }) => values.length);
  const total = lengths.reduce((sum, length) => sum + length, 0);
  const view = new Float64Array(total);
  const place_m = [0, 1, 2].map(() => new Float64Array(total));
  const columns = quantities.map(({ name, unit }) => ({ name, unit, values: new Float64Array(total) }));
  let first = 0;
  slices.forEach((slice, s) => {
    const { across, up, normal } = axesOf(slice);
    const [nRows, nColumns] = slice.shape;
    const [x, y] = [spaced(slice.across_m, nColumns), spaced(slice.up_m, nRows)];
    for (let i = 0; i < nRows * nColumns; i++) {
      view[first + i] = s;
      place_m[across][first + i] = x[i % nColumns];
      place_m[up][first + i] = y[Math.floor(i / nColumns)];
      place_m[normal][first + i] = slice.at_m;
      columns.forEach(({ values }, q) => {
        values[first + i] = quantities[q].values[s][i];
      });
    }
    first += nRows * nColumns;
  });
  const places = place_m.map((values, axis) => ({ name: letterOf(axis), unit: "m", values }));
  return [{ name: "view", unit: "1", values: view }, ...places, ...columns];
}
