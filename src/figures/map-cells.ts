import { FerruleError } from "../errors.js";
import type { GridMap } from "../imaging/index.js";
import type { SlicePlane } from "./region-outline.js";

/** One voxel face of a slice, mm in world axes, with its value in the map's unit. */
export interface SliceCell {
  readonly left: number;
  readonly right: number;
  readonly low: number;
  readonly high: number;
  readonly value: number;
}

const count = ({ grid }: GridMap, axis: number): number => grid.shape[2 - axis];

/** World coordinate of a voxel's centre along one axis, m. */
export const centreOf = ({ grid }: GridMap, axis: number, index: number): number =>
  grid.origin_m[axis] + index * grid.spacing_m[axis];

/** Outer faces of a map along one axis, mm. */
export function reachOf(map: GridMap, axis: number): [number, number] {
  const half = map.grid.spacing_m[axis] / 2;
  return [(centreOf(map, axis, 0) - half) * 1e3, (centreOf(map, axis, count(map, axis) - 1) + half) * 1e3];
}

/** Index (x, y, z) of the voxel that holds the largest value. */
export function largestVoxel(map: GridMap): [number, number, number] {
  const { values } = map;
  const best = values.reduce((at, value, i) => (value > values[at] ? i : at), 0);
  const [nx, ny] = [count(map, 0), count(map, 1)];
  return [best % nx, Math.floor(best / nx) % ny, Math.floor(best / (nx * ny))];
}

/** Index (x, y, z) of the voxel that holds a point, m. */
export function voxelAt(
  map: GridMap,
  point_m: readonly [number, number, number],
  { path = "through_m" }: { path?: string } = {},
): [number, number, number] {
  const at = point_m.map((x, axis) => Math.round((x - map.grid.origin_m[axis]) / map.grid.spacing_m[axis]));
  at.forEach((index, axis) => {
    if (index >= 0 && index < count(map, axis)) return;
    const name = "xyz"[axis];
    const [from, to] = reachOf(map, axis);
    throw new FerruleError("InvalidValue", {
      path,
      found: `${name} = ${(point_m[axis] * 1e3).toPrecision(4)} mm`,
      accepted: `a point within the map, ${name} from ${from.toPrecision(4)} to ${to.toPrecision(4)} mm`,
    });
  });
  return at as [number, number, number];
}

/** The voxels of one plane through `index`, as faces. */
export function sliceCells(
  map: GridMap,
  index: readonly [number, number, number],
  { across, up }: Pick<SlicePlane, "across" | "up">,
): SliceCell[] {
  const strides = [1, count(map, 0), count(map, 0) * count(map, 1)];
  const offset = index.reduce((sum, i, axis) => sum + (axis === across || axis === up ? 0 : i * strides[axis]), 0);
  const edge = (axis: number, i: number) => (centreOf(map, axis, i) - map.grid.spacing_m[axis] / 2) * 1e3;
  const cells: SliceCell[] = [];
  for (let j = 0; j < count(map, up); j++)
    for (let i = 0; i < count(map, across); i++)
      cells.push({
        left: edge(across, i),
        right: edge(across, i + 1),
        low: edge(up, j),
        high: edge(up, j + 1),
        value: map.values[offset + i * strides[across] + j * strides[up]],
      });
  return cells;
}
