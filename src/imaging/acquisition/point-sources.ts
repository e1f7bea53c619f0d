import { FerruleError } from "../../errors.js";

/** Iron as points: what the direct summation sums over. All four arrays have the same length. */
export interface PointSources {
  readonly x_m: Float64Array;
  readonly y_m: Float64Array;
  readonly z_m: Float64Array;
  readonly iron_kg: Float64Array;
}

export type Vector = readonly [number, number, number];

export type IronObject =
  | { readonly kind: "sphere"; readonly center_m: Vector; readonly diameter_m: number; readonly iron_kg: number }
  | { readonly kind: "box"; readonly center_m: Vector; readonly size_m: Vector; readonly iron_kg: number }
  | { readonly kind: "point"; readonly center_m: Vector; readonly iron_kg: number };

/**
 * Cuts objects into points on a grid of the given spacing (per axis, m), shifted by `offset` cells against the world's
 * origin so that it is nobody's reconstruction grid. Each object's iron is exact: its points share it in proportion to the
 * part of their cell that lies inside (4 × 4 × 4 samples a cell).
 */
export function cutIntoPoints(
  objects: readonly IronObject[],
  spacing_m: Vector,
  { offset = [0.37, 0.21, 0.43] as Vector } = {},
): PointSources {
  const parts = objects.map((object) => cutObject(object, spacing_m, offset));
  return {
    x_m: Float64Array.from(parts.flatMap(({ x }) => x)),
    y_m: Float64Array.from(parts.flatMap(({ y }) => y)),
    z_m: Float64Array.from(parts.flatMap(({ z }) => z)),
    iron_kg: Float64Array.from(parts.flatMap(({ iron }) => iron)),
  };
}

function cutObject(object: IronObject, spacing_m: Vector, offset: Vector) {
  if (!(object.iron_kg >= 0) || !Number.isFinite(object.iron_kg))
    throw new FerruleError("InvalidValue", { found: `${object.iron_kg} kg of iron`, accepted: "a mass of at least 0" });
  const [cx, cy, cz] = object.center_m;
  if (object.kind === "point") return { x: [cx], y: [cy], z: [cz], iron: [object.iron_kg] };
  const half = halfExtents(object);
  const x: number[] = [];
  const y: number[] = [];
  const z: number[] = [];
  const share: number[] = [];
  const [nx, ny, nz] = [0, 1, 2].map((axis) =>
    cellRange(object.center_m[axis], half[axis], spacing_m[axis], offset[axis]),
  );
  for (let k = nz.first; k <= nz.last; k++)
    for (let j = ny.first; j <= ny.last; j++)
      for (let i = nx.first; i <= nx.last; i++) {
        const cell: Vector = [nx.at(i), ny.at(j), nz.at(k)];
        const inside = insideFraction(object, cell, spacing_m);
        if (inside === 0) continue;
        x.push(cell[0]);
        y.push(cell[1]);
        z.push(cell[2]);
        share.push(inside);
      }
  const total = share.reduce((sum, part) => sum + part, 0);
  if (total === 0) return { x: [cx], y: [cy], z: [cz], iron: [object.iron_kg] };
  return { x, y, z, iron: share.map((part) => (part / total) * object.iron_kg) };
}

function halfExtents(object: Exclude<IronObject, { kind: "point" }>): Vector {
  if (object.kind === "sphere") return [object.diameter_m / 2, object.diameter_m / 2, object.diameter_m / 2];
  return [object.size_m[0] / 2, object.size_m[1] / 2, object.size_m[2] / 2];
}

function cellRange(center: number, half: number, spacing: number, offset: number) {
  return {
    first: Math.floor((center - half) / spacing - offset),
    last: Math.ceil((center + half) / spacing - offset),
    at: (index: number) => (index + offset) * spacing,
  };
}

const sub = [-0.375, -0.125, 0.125, 0.375];

function insideFraction(object: Exclude<IronObject, { kind: "point" }>, cell: Vector, spacing: Vector): number {
  let inside = 0;
  for (const dz of sub)
    for (const dy of sub)
      for (const dx of sub)
        if (contains(object, [cell[0] + dx * spacing[0], cell[1] + dy * spacing[1], cell[2] + dz * spacing[2]]))
          inside++;
  return inside / 64;
}

/** Whether a point lies in an object (a point object contains nothing). */
export function contains(object: IronObject, [x, y, z]: Vector): boolean {
  const [dx, dy, dz] = [x - object.center_m[0], y - object.center_m[1], z - object.center_m[2]];
  if (object.kind === "sphere") return dx * dx + dy * dy + dz * dz <= (object.diameter_m / 2) ** 2;
  if (object.kind === "box")
    return (
      Math.abs(dx) <= object.size_m[0] / 2 &&
      Math.abs(dy) <= object.size_m[1] / 2 &&
      Math.abs(dz) <= object.size_m[2] / 2
    );
  return false;
}
