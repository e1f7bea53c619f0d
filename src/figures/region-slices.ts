import type { GridMap } from "../imaging/index.js";
import type { Figure } from "./figure.js";
import type { FigureDocument } from "./figure-document.js";
import { voxelAt } from "./map-cells.js";
import { mapScale } from "./map-scale.js";
import { axesByLength } from "./map-slices.js";
import { groundOf, type PlacedPanel, shortened, textPanel } from "./panel-layout.js";
import type { OutlinedRegion } from "./region-outline.js";
import { openCanvas, type SvgPanel, toSvg } from "./render.js";
import { barPanel, columnsOfViews, edges, type SliceDrawing, slicePanel, sliceView, spanOf } from "./slice-view.js";

export interface RegionSlicesFigureData {
  readonly title: string;
  readonly subtitle?: string;
  readonly map: GridMap;
  readonly regions: readonly OutlinedRegion[];
}

/** One slice through the centre of every region, across the map's longest axis, all on one scale: no region goes unseen. */
export async function regionSlicesFigure(
  data: RegionSlicesFigureData,
  { width = 720, limit, document }: { width?: number; limit?: number; document?: FigureDocument } = {},
): Promise<Figure> {
  const { map, regions, title, subtitle } = data;
  const { long, first, second } = axesByLength(map);
  const axes = { across: second, up: first, normal: long };
  const views = regions.map(({ label, shape }) => {
    const index = voxelAt(map, shape.center_m, { path: `region "${label}"` });
    return sliceView(map, index, axes);
  });
  const perRow = Math.max(2, Math.floor(width / 230));
  const room = width / perRow - edges.left - edges.right;
  const perMm = Math.min(room / spanOf(map, second), 240 / spanOf(map, first));
  const drawing = { map, regions, scale: mapScale(map, limit), perMm, canvas: await openCanvas(document) };
  const slices = views.map((view) => slicePanel(view, drawing));
  const panel = gridOf(slices, drawing, { width, perRow });
  const description = `One slice through each of ${regions.length} regions.`;
  return { svg: toSvg([panel], { title, subtitle, description }), data: columnsOfViews(views, map) };
}

/** Slices in rows with their region's number and name on top; the bar takes the next free place. */
function gridOf(
  slices: readonly SvgPanel[],
  { regions, scale, canvas }: SliceDrawing,
  { width, perRow }: { width: number; perRow: number },
): SvgPanel {
  const wide = width / perRow;
  const high = Math.max(200, ...slices.map((slice) => Number(slice.getAttribute("height"))));
  const head = 24;
  const at = (i: number) => ({ x: (i % perRow) * wide, y: Math.floor(i / perRow) * (high + head) });
  const children: PlacedPanel[] = slices.flatMap((panel, i) => {
    const { x, y } = at(i);
    const words = shortened(`${i + 1} ${regions[i].label}`, Math.floor(wide / 8.5));
    return [
      { panel: textPanel([words], { width: wide, left: edges.left }), x, y },
      { panel, x, y: y + head },
    ];
  });
  const { x, y } = at(slices.length);
  const bar = { panel: barPanel(scale, { width: wide, height: high, canvas }), x, y: y + head };
  return groundOf([...children, bar], { width });
}
