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
 * part of their cell that lies inside, and stand at the centre of that part (at the cell's centre, a slab thinner than a
 * cell would be misplaced by up to half a cell). Cells are first cut off at the object's outer faces, which makes share and
 * place exact for a box; a sphere takes 4 × 4 × 4 samples of what is left.
 */
export function cutIntoPoints(
  objects: readonly IronObject[],
  spacing_m: Vector,
  { offset = [0.37, 0.21, 0.43] as Vector } = {},
): PointSources {
  if (!spacing_m.every((spacing) => spacing > 0 && Number.isFinite(spacing)))
    throw new FerruleError("InvalidValue", {
      path: "simulation.offsetGrid",
      found: `a spacing of ${spacing_m.join(", ")} m`,
      accepted: "three positive spacings, e.g. 0.4 mm, 0.4 mm, 0.2 mm",
    });
  refuseTooMany(objects, spacing_m);
  const parts = objects.map((object) => cutObject(object, spacing_m, offset));
  return {
    x_m: Float64Array.from(parts.flatMap(({ x }) => x)),
    y_m: Float64Array.from(parts.flatMap(({ y }) => y)),
    z_m: Float64Array.from(parts.flatMap(({ z }) => z)),
    iron_kg: Float64Array.from(parts.flatMap(({ iron }) => iron)),
  };
}

/** Cells that a cut would visit; beyond this a direct sum would take days, and the cut alone hangs. */
const mostCells = 2e6;

function refuseTooMany(objects: readonly IronObject[], spacing_m: Vector): void {
  const edges = (object: IronObject) =>
    object.kind === "point" ? [] : object.kind === "sphere" ? [1, 1, 1].map(() => object.diameter_m) : object.size_m;
  const cells = objects.reduce(
    (sum, object) => sum + edges(object).reduce((product, edge, axis) => product * (edge / spacing_m[axis] + 2), 1),
    0,
  );
  if (cells > mostCells)
    throw new FerruleError("InvalidValue", {
      path: "simulation.offsetGrid",
      found: `a spacing of ${spacing_m.map((s) => `${s * 1e3} mm`).join(", ")}, which cuts the objects into ${cells.toPrecision(2)} points`,
      accepted: `a spacing that gives at most ${mostCells} points, e.g. a third of the map's voxels`,
    });
}

function cutObject(object: IronObject, spacing_m: Vector, offset: Vector) {
  if (!(object.iron_kg >= 0) || !Number.isFinite(object.iron_kg))
    throw new FerruleError("InvalidValue", { found: `${object.iron_kg} kg of iron`, accepted: "a mass of at least 0" });
  const [cx, cy, cz] = object.center_m;
  if (object.kind === "point") return { x: [cx], y: [cy], z: [cz], iron: [object.iron_kg] };
  const half = halfExtents(object);
  if (!half.every((extent) => extent >= 0 && Number.isFinite(extent)))
    throw new FerruleError("InvalidValue", {
      found: `a ${object.kind} that reaches ${half.join(", ")} m from its centre`,
      accepted: "finite extents of at least 0, e.g. a diameter of 2 mm",
    });
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
        const inside = insidePart(object, [nx.at(i), ny.at(j), nz.at(k)]);
        if (inside.volume === 0) continue;
        x.push(inside.center[0]);
        y.push(inside.center[1]);
        z.push(inside.center[2]);
        share.push(inside.volume);
      }
  const total = share.reduce((sum, part) => sum + part, 0);
  if (total === 0) return { x: [cx], y: [cy], z: [cz], iron: [object.iron_kg] };
  return { x, y, z, iron: share.map((part) => (part / total) * object.iron_kg) };
}

function halfExtents(object: Exclude<IronObject, { kind: "point" }>): Vector {
  if (object.kind === "sphere") return [object.diameter_m / 2, object.diameter_m / 2, object.diameter_m / 2];
  return [object.size_m[0] / 2, object.size_m[1] / 2, object.size_m[2] / 2];
}

interface Piece {
  readonly from: number;
  readonly size: number;
}

/** Cells along one axis, cut off at the object's faces; a cell beyond them has no size left. */
function cellRange(center: number, half: number, spacing: number, offset: number) {
  return {
    first: Math.floor((center - half) / spacing - offset),
    last: Math.ceil((center + half) / spacing - offset),
    at: (index: number): Piece => {
      const from = Math.max(center - half, (index + offset - 0.5) * spacing);
      return { from, size: Math.max(0, Math.min(center + half, (index + offset + 0.5) * spacing) - from) };
    },
  };
}

const sub = [0.125, 0.375, 0.625, 0.875];

/** Volume of what lies inside of a cut cell, m³, and its centre. */
function insidePart(object: Exclude<IronObject, { kind: "point" }>, [px, py, pz]: readonly [Piece, Piece, Piece]) {
  let samples = 0;
  const center: [number, number, number] = [0, 0, 0];
  for (const z of sub)
    for (const y of sub)
      for (const x of sub) {
        const point: Vector = [px.from + x * px.size, py.from + y * py.size, pz.from + z * pz.size];
        if (!contains(object, point)) continue;
        samples++;
        for (let axis = 0; axis < 3; axis++) center[axis] += point[axis];
      }
  for (let axis = 0; axis < 3; axis++) center[axis] /= samples;
  return { volume: samples === 0 ? 0 : (px.size * py.size * pz.size * samples) / 64, center };
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
