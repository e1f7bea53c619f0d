import type { GridMap } from "../imaging/index.js";
import type { Figure } from "./figure.js";
import type { FigureDocument } from "./figure-document.js";
import { centreOf, largestVoxel, voxelAt } from "./map-cells.js";
import { mapScale } from "./map-scale.js";
import { groundOf } from "./panel-layout.js";
import type { OutlinedRegion } from "./region-outline.js";
import { openCanvas, type SvgPanel, toSvg } from "./render.js";
import {
  axisName,
  barPanel,
  columnsOfViews,
  edges,
  keyPanel,
  plain,
  type SliceDrawing,
  type SliceView,
  slicePanel,
  sliceView,
  spanOf,
} from "./slice-view.js";

export interface MapSlicesFigureData {
  readonly title: string;
  readonly subtitle?: string;
  readonly map: GridMap;
  /** Drawn where a slice cuts them; numbered in this order. */
  readonly regions: readonly OutlinedRegion[];
  /** Point that all slices pass through, m; the largest voxel's centre by default. */
  readonly through_m?: readonly [number, number, number];
}

export interface MapSlicesFigureOptions {
  readonly width?: number;
  /** Full scale in the map's unit, to compare maps of a series; by default rounded up from the map's own largest size. */
  readonly limit?: number;
  readonly document?: FigureDocument;
}

/** The longest axis lies across on the left; the others share the view on the right. */
export function axesByLength(map: GridMap): { long: number; first: number; second: number } {
  const long = [2, 0, 1].reduce((best, axis) => (spanOf(map, axis) > spanOf(map, best) * 1.001 ? axis : best));
  const [first, second] = [0, 1, 2].filter((axis) => axis !== long);
  return { long, first, second };
}

/**
 * Three orthogonal slices of a map through one point, in equal physical scale, with the contours of the regions and one
 * bar that is symmetric about zero. An iron map is in mass of Fe per volume; a signal map claims no mass, and its title
 * should say so.
 */
export async function mapSlicesFigure(
  data: MapSlicesFigureData,
  { width = 720, limit, document }: MapSlicesFigureOptions = {},
): Promise<Figure> {
  const { map, regions } = data;
  const index = data.through_m === undefined ? largestVoxel(map) : voxelAt(map, data.through_m);
  const { long, first, second } = axesByLength(map);
  const views = [
    sliceView(map, index, { across: long, up: first, normal: second }),
    sliceView(map, index, { across: second, up: first, normal: long }),
    sliceView(map, index, { across: long, up: second, normal: first }),
  ];
  const room = width - 2 * (edges.left + edges.right);
  const perMm = Math.min(
    room / (spanOf(map, long) + spanOf(map, second)),
    620 / (spanOf(map, first) + spanOf(map, second)),
  );
  const drawing = { map, regions, scale: mapScale(map, limit), perMm, canvas: await openCanvas(document) };
  const panels = [arranged(views, drawing, width), keyPanel(regions, width)];
  const { title, subtitle } = data;
  const svg = toSvg(panels, { title, subtitle, description: describe(index, drawing) });
  return { svg, data: columnsOfViews(views, map) };
}

/** Two views side by side, the third below the first, the bar in the corner that is left. */
function arranged(views: readonly SliceView[], drawing: SliceDrawing, width: number): SvgPanel {
  const [main, side, below] = views.map((view) => slicePanel(view, drawing));
  const right = Number(main.getAttribute("width"));
  const down = Number(main.getAttribute("height"));
  const height = Number(below.getAttribute("height"));
  const bar = barPanel(drawing.scale, { width: Math.max(200, width - right), height, canvas: drawing.canvas });
  const children = [
    { panel: main, x: 0, y: 0 },
    { panel: side, x: right, y: 0 },
    { panel: below, x: 0, y: down },
    { panel: bar, x: right, y: down },
  ];
  return groundOf(children, { width });
}

function describe(index: readonly number[], { map, scale: { limit, factor, unit } }: SliceDrawing): string {
  const place = (i: number, axis: number) => plain(Number((centreOf(map, axis, i) * 1e3).toFixed(2)));
  const point = index.map((i, axis) => `${axisName(axis)} ${place(i, axis)} mm`).join(", ");
  const reach = `${plain(-limit * factor)} to ${plain(limit * factor)} ${unit}`;
  return `Three orthogonal slices through ${point}; colours from ${reach}.`;
}
