import { toUnit, unitForDisplay, unitThatSuits } from "../units/index.js";
import type { BoreOutline, FieldFreeMark } from "./bore-outline.js";
import { checkLengths } from "./check-lengths.js";
import type { Figure } from "./figure.js";
import type { FigureDocument } from "./figure-document.js";
import { headedSvg, type KeyEntry } from "./key-panel.js";
import { roundUp } from "./map-scale.js";
import { plainNumber } from "./mass-unit.js";
import { palette } from "./palette.js";
import {
  axesOf,
  checkMagnitudes,
  checkPlanes,
  columnsOfPlanes,
  frameOf,
  letterOf,
  type PlaneValues,
  rangeOf,
} from "./plane-cells.js";
import type { DirectionStroke, PlaneScale } from "./plane-panel.js";
import { planeKey, planeRow, planeScalePerMm } from "./plane-row.js";
import { openCanvas } from "./render.js";
import { roundLevels } from "./round-levels.js";

/** The magnitude |mu0*H| in a plane, T, and its parts in that plane where directions are to be drawn. */
export interface FieldSlice extends PlaneValues {
  readonly components?: {
    /** Along the first and the second axis of the plane's name, shape [nRows, nColumns]. */
    readonly across_T: Float64Array;
    readonly up_T: Float64Array;
  };
}

export interface FieldSliceFigureData {
  readonly title: string;
  readonly subtitle?: string;
  /** One to three. */
  readonly slices: readonly FieldSlice[];
  readonly fieldFree?: readonly FieldFreeMark[];
  readonly boreOutline?: BoreOutline;
  /** The colours end here; the largest value, rounded up, by default. */
  readonly limit_T?: number;
  /** Labelled contours; about five round ones by default. */
  readonly levels_T?: readonly number[];
}

function fieldScale(limit_T: number): PlaneScale {
  const unit = unitThatSuits(limit_T, "appliedField", 2);
  const factor = toUnit(1, unit, "appliedField");
  const quantity = "Magnitude of the field, |\u03bc\u2080H|";
  return { ramp: "field", low: 0, high: limit_T, factor, unit: unitForDisplay(unit), quantity };
}

/** A value between the four cells around a place given in steps of columns and rows. */
function between(values: Float64Array, columns: number, [c, r]: readonly [number, number]): number {
  const [c0, r0] = [Math.min(columns - 2, Math.floor(c)), Math.min(values.length / columns - 2, Math.floor(r))];
  const [s, t] = [c - c0, r - r0];
  const i = r0 * columns + c0;
  const lower = (1 - s) * values[i] + s * values[i + 1];
  return (1 - t) * lower + t * ((1 - s) * values[i + columns] + s * values[i + columns + 1]);
}

/** Strokes on a lattice about `gap_mm` wide; as short as the field's share in the plane, none below a tenth of it. */
function strokesOf(slice: FieldSlice, gap_mm: number): DirectionStroke[] {
  const { components, values, shape } = slice;
  if (components === undefined) return [];
  const { left, right, low, high } = frameOf(slice);
  const [rows, columns] = shape;
  const places = (span_mm: number, count: number): number[] => {
    const strokes = Math.max(1, Math.min(count, Math.floor(span_mm / gap_mm)));
    return Array.from({ length: strokes }, (_, i) => Math.max(0, ((i + 0.5) * count) / strokes - 0.5));
  };
  const [acrossPlaces, upPlaces] = [places(right - left, columns), places(high - low, rows)];
  return upPlaces.flatMap((r) =>
    acrossPlaces.flatMap((c) => {
      const at = (of: Float64Array) => between(of, columns, [c, r]);
      const magnitude = at(values);
      const [across, up] = [at(components.across_T) / magnitude, at(components.up_T) / magnitude];
      const x = left + ((c + 0.5) / columns) * (right - left);
      const y = low + ((r + 0.5) / rows) * (high - low);
      const share = Math.hypot(across, up);
      // The mean of vectors is no longer than the mean of their lengths: parts that are do not belong to this magnitude.
      return share >= 0.1 && share <= 1.001 ? [{ x, y, across, up }] : [];
    }),
  );
}

function keyOf(hasStrokes: boolean, unit: string): KeyEntry[] {
  const words = hasStrokes ? "arrows: direction of the field, short where it leaves the plane" : "";
  return [
    { words: `contours, in ${unit}`, colour: palette.ink, line: { width: 1 } },
    { words, colour: palette.quiet },
  ];
}

/**
 * Magnitude of the applied field in up to three planes, in one physical scale and one scale of colours from zero, with
 * labelled contours; over it directions, the field-free point or line, and the bore.
 *
 * @throws FerruleError ShapeMismatch, InvalidValue (no plane or more than three; a magnitude below 0; none finite)
 */
export async function fieldSliceFigure(
  data: FieldSliceFigureData,
  { width = 720, document }: { width?: number; document?: FigureDocument } = {},
): Promise<Figure> {
  const { slices, fieldFree: marks, boreOutline } = data;
  checked(slices);
  const canvas = await openCanvas(document);
  const largest = rangeOf(slices)[1];
  const scale = fieldScale(data.limit_T ?? roundUp(largest));
  const values = data.levels_T ?? roundLevels(0, Math.min(scale.high, largest), slices.length === 3 ? 4 : 6);
  const levels = values.map((value) => ({ value, words: [plainNumber(value * scale.factor, 4)] }));
  const gap = slices.length === 3 ? 22 : 30;
  const strokes = slices.map((slice) => strokesOf(slice, gap / planeScalePerMm(slices, width)));
  const row = { scale, levels, boreOutline, marks, width, canvas, strokes, strokeLength: 15 };
  const key = [...keyOf(strokes.flat().length > 0, scale.unit), ...planeKey(slices, row)];
  const planes = slices.map((slice) => `${letterOf(axesOf(slice).normal)} = ${plainNumber(slice.at_m * 1e3, 4)} mm`);
  const top = `${plainNumber(largest * scale.factor)} ${scale.unit}`;
  const description = `Magnitude of the field in the planes ${planes.join(", ")}; largest value ${top}.`;
  const svg = headedSvg(planeRow(slices, row, key), { ...data, description }, { width, canvas });
  return { svg, data: columnsOf(slices) };
}

function checked(slices: readonly FieldSlice[]): void {
  checkPlanes(slices);
  checkMagnitudes(slices, "magnitudes of the field");
  slices.forEach(({ components, values }, i) => {
    if (components === undefined) return;
    const { across_T, up_T } = components;
    const path = `slices[${i}].components`;
    checkLengths({ [`${path}.across_T`]: across_T, [`${path}.up_T`]: up_T }, values.length, "one for each cell");
  });
}

/** Parts are along the axes of the plane; a plane without them has empty cells. */
function columnsOf(slices: readonly FieldSlice[]): Figure["data"] {
  const magnitude = { name: "field_magnitude", unit: "T", values: slices.map(({ values }) => values) };
  if (slices.every(({ components }) => components === undefined)) return columnsOfPlanes(slices, [magnitude]);
  const part = (side: "across_T" | "up_T") =>
    slices.map(({ components, values }) => components?.[side] ?? values.map(() => Number.NaN));
  return columnsOfPlanes(slices, [
    magnitude,
    { name: "field_across", unit: "T", values: part("across_T") },
    { name: "field_up", unit: "T", values: part("up_T") },
  ]);
}
