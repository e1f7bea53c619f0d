import type { FieldFunction, Vector3 } from "../sources/source.js";
import { length } from "../sources/vector3.js";
import { type BoreCylinder, borePoint } from "./bore-cylinder.js";

export interface CoarseSearch {
  /** Places to start from, most promising first. */
  readonly starts_m: readonly Vector3[];
  /** Typical spacing of the points. */
  readonly spacing_m: number;
  /** Median |B| over the bore: the scale against which a residual is small. */
  readonly typical_T: number;
  readonly smallest: { readonly position_m: Vector3; readonly field_T: number };
}

const rings = 4;
const sectors = 16;
/** Ring k at (2k + 1)/7 of the radius: a cell about the axis, three rings of wedges, the last on the wall. */
const perLayer = rings * sectors;
const mostStarts = 32;

/**
 * Field on a coarse polar grid that lies within the bore, and the cells that may hold a zero: those in which every
 * component takes both signs at the corners. Points below all their neighbours are added, for lines with a residual.
 * The grid has a cell about the centre, so that the zero of a symmetric scanner lies in the middle of a cell.
 *
 * Valid for   zeros further apart than a cell (about 0.3 radius across, 0.3 radius along up to six radii of length)
 * Source      derived
 * Checked by  field-free-region.test.ts
 */
export function coarseSearch(field: FieldFunction, bore: BoreCylinder): CoarseSearch {
  const layers = 2 * Math.round(Math.max(4, Math.min(40, (7 * bore.halfLength_m) / bore.radius_m)) / 2);
  const points = gridPoints(bore, layers);
  const values = field(points);
  const magnitudes = Float64Array.from({ length: layers * perLayer }, (_, i) =>
    finiteOr(Math.hypot(values[3 * i], values[3 * i + 1], values[3 * i + 2])),
  );
  const typical_T = Float64Array.from(magnitudes).sort()[Math.floor(magnitudes.length / 2)];
  const isLowest = new Uint8Array(magnitudes.length).fill(1);
  const crossing: number[][] = [];
  for (const cell of cells(layers)) {
    if (everyComponentTurns(values, cell, 1e-12 * typical_T)) crossing.push(cell);
    const lowest = Math.min(...cell.map((i) => magnitudes[i]));
    for (const i of cell) if (magnitudes[i] > lowest) isLowest[i] = 0;
  }
  const at = (i: number): Vector3 => [points[3 * i], points[3 * i + 1], points[3 * i + 2]];
  const level = (cell: readonly number[]): number => Math.min(...cell.map((i) => magnitudes[i]));
  const valleys = [...magnitudes.keys()].filter((i) => isLowest[i] === 1).sort((a, b) => magnitudes[a] - magnitudes[b]);
  const all = magnitudes.indexOf(Math.min(...magnitudes));
  return {
    starts_m: [
      ...crossing
        .sort((a, b) => level(a) - level(b))
        .slice(0, mostStarts)
        .map((cell) => middle(cell.map(at))),
      ...valleys.slice(0, mostStarts).map(at),
    ],
    spacing_m: Math.max((2 / 7) * bore.radius_m, (2 * bore.halfLength_m) / (layers - 1)),
    typical_T,
    smallest: { position_m: at(all), field_T: length(values.subarray(3 * all, 3 * all + 3)) },
  };
}

function gridPoints(bore: BoreCylinder, layers: number): Float64Array {
  const points = new Float64Array(3 * layers * perLayer);
  for (let layer = 0; layer < layers; layer++)
    for (let k = 0; k < rings; k++)
      for (let j = 0; j < sectors; j++) {
        const radial = (bore.radius_m * (2 * k + 1)) / (2 * rings - 1);
        const phi = ((j + 0.5) * 2 * Math.PI) / sectors;
        const along = bore.halfLength_m * ((2 * layer) / (layers - 1) - 1);
        const point = borePoint(bore, [radial * Math.cos(phi), radial * Math.sin(phi), along]);
        points.set(point, 3 * (layer * perLayer + k * sectors + j));
      }
  return points;
}

/** Corner indices: per pair of layers the prism about the axis, then the wedges between two rings. */
function* cells(layers: number): Generator<number[]> {
  for (let layer = 0; layer + 1 < layers; layer++) {
    const both = (within: readonly number[]): number[] => within.flatMap((i) => [i, i + perLayer]);
    const base = layer * perLayer;
    yield both(Array.from({ length: sectors }, (_, j) => base + j));
    for (let k = 0; k + 1 < rings; k++)
      for (let j = 0; j < sectors; j++) {
        const [here, next] = [base + k * sectors + j, base + k * sectors + ((j + 1) % sectors)];
        yield both([here, next, here + sectors, next + sectors]);
      }
  }
}

function everyComponentTurns(values: Float64Array, cell: readonly number[], floor_T: number): boolean {
  for (let component = 0; component < 3; component++) {
    let [low, high] = [Infinity, -Infinity];
    for (const i of cell) {
      const value = values[3 * i + component];
      if (Number.isNaN(value)) return false;
      low = Math.min(low, value);
      high = Math.max(high, value);
    }
    if (low > floor_T || high < -floor_T) return false;
  }
  return true;
}

/** A point on a filament has no field; it is no candidate. */
const finiteOr = (value: number): number => (Number.isFinite(value) ? value : Infinity);

function middle(points: readonly Vector3[]): Vector3 {
  const mean = (axis: number): number => points.reduce((sum, point) => sum + point[axis], 0) / points.length;
  return [mean(0), mean(1), mean(2)];
}
