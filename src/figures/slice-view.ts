import type { GridMap } from "../imaging/index.js";
import { rampColour } from "./colour-ramp.js";
import type { Figure } from "./figure.js";
import { centreOf, reachOf, type SliceCell, sliceCells } from "./map-cells.js";
import type { MapScale } from "./map-scale.js";
import { palette } from "./palette.js";
import { flowText, textPanel } from "./panel-layout.js";
import { type OutlinedRegion, regionOutline, type SlicePlane } from "./region-outline.js";
import { type Canvas, renderPlot, type SvgPanel } from "./render.js";

export const edges = { left: 52, right: 10, top: 24, bottom: 40 } as const;
export const axisName = (axis: number) => "xyz"[axis];
export const plain = (value: number) => String(Number(value.toPrecision(3))).replace("-", "\u2212");

/** One plane of a map with its voxels. */
export interface SliceView {
  readonly plane: SlicePlane;
  readonly cells: readonly SliceCell[];
}

/** What a slice is drawn of and how; `perMm` is picture elements per mm along both axes. */
export interface SliceDrawing {
  readonly map: GridMap;
  readonly regions: readonly OutlinedRegion[];
  readonly scale: MapScale;
  readonly perMm: number;
  readonly canvas: Canvas;
}

export const spanOf = (map: GridMap, axis: number): number => reachOf(map, axis)[1] - reachOf(map, axis)[0];

export function sliceView(
  map: GridMap,
  index: readonly [number, number, number],
  axes: Omit<SlicePlane, "at_m">,
): SliceView {
  const plane = { ...axes, at_m: centreOf(map, axes.normal, index[axes.normal]) };
  return { plane, cells: sliceCells(map, index, plane) };
}

/** One slice in its frame: voxels, contours, axes in mm, and where the plane lies. */
export function slicePanel(
  { plane, cells }: SliceView,
  { map, regions, scale, perMm, canvas }: SliceDrawing,
): SvgPanel {
  const { Plot } = canvas;
  const { across, up, normal, at_m } = plane;
  const axis = (index: number) => ({
    domain: reachOf(map, index),
    label: `${axisName(index)} (mm)`,
    labelArrow: "none" as const,
    labelAnchor: "center" as const,
    ticks: Math.max(3, Math.round((spanOf(map, index) * perMm) / 55)),
    tickFormat: plain,
  });
  const face = { x1: "left", x2: "right", y1: "low", y2: "high" } as const;
  const dashed = cells.filter(({ value }) => value < -0.05 * scale.limit);
  return renderPlot(
    {
      width: edges.left + edges.right + spanOf(map, across) * perMm,
      height: edges.top + edges.bottom + spanOf(map, up) * perMm,
      marginLeft: edges.left,
      marginRight: edges.right,
      marginTop: edges.top,
      marginBottom: edges.bottom,
      x: { ...axis(across), labelOffset: 34 },
      y: { ...axis(up), labelOffset: 44 },
      color: { type: "identity" },
      marks: [
        Plot.rect(cells, {
          ...face,
          fill: ({ value }: SliceCell) => rampColour(value / scale.limit, scale.ramp),
          shapeRendering: "crispEdges",
        }),
        Plot.link(dashed, {
          x1: ({ left, right }: SliceCell) => left + 0.3 * (right - left),
          x2: ({ left, right }: SliceCell) => left + 0.7 * (right - left),
          y1: ({ low, high }: SliceCell) => (low + high) / 2,
          y2: ({ low, high }: SliceCell) => (low + high) / 2,
          stroke: palette.ink,
          strokeOpacity: 0.55,
          strokeWidth: 0.9,
        }),
        ...outlineMarks(regions, plane, Plot),
        Plot.frame({ stroke: palette.quiet, strokeWidth: 0.8 }),
        Plot.text([`${axisName(normal)} = ${plain(Number((at_m * 1e3).toFixed(2)))} mm`], {
          frameAnchor: "top-left",
          dy: -18,
          fill: palette.ink,
        }),
      ],
    },
    canvas,
  );
}

function outlineMarks(regions: readonly OutlinedRegion[], plane: SlicePlane, Plot: Canvas["Plot"]) {
  const outlines = regions.map((region) => regionOutline(region, plane).map(([u, v]) => [u * 1e3, v * 1e3]));
  const numbers = outlines.flatMap((outline, i) =>
    outline.length === 0
      ? []
      : [{ x: Math.max(...outline.map(([u]) => u)), y: Math.max(...outline.map(([, v]) => v)), text: String(i + 1) }],
  );
  return [
    // White under ink: seen on light and on dark voxels.
    ...outlines.flatMap((outline) => [
      Plot.line(outline, { stroke: palette.paper, strokeWidth: 3, strokeOpacity: 0.9 }),
      Plot.line(outline, { stroke: palette.ink, strokeWidth: 1.2 }),
    ]),
    Plot.text(numbers, {
      x: "x",
      y: "y",
      text: "text",
      fill: palette.ink,
      stroke: palette.paper,
      strokeWidth: 4,
      fontWeight: "bold",
    }),
  ];
}

/** The bar with its unit, as high as the view beside it. */
export function barPanel(
  scale: MapScale,
  { width, height, canvas }: { width: number; height: number; canvas: Canvas },
): SvgPanel {
  const { Plot } = canvas;
  const top = scale.limit * scale.factor;
  const steps = Array.from({ length: 100 }, (_, i) => ({ low: (i - 50) / 50, high: (i - 49) / 50 }));
  return renderPlot(
    {
      width,
      height,
      marginLeft: 58,
      marginRight: Math.max(4, width - 58 - 22),
      marginTop: edges.top,
      marginBottom: edges.bottom,
      x: { axis: null, domain: [0, 1] },
      y: {
        domain: [-top, top],
        label: null,
        ticks: [-top, -top / 2, 0, top / 2, top],
        tickFormat: plain,
      },
      color: { type: "identity" },
      marks: [
        Plot.rect(steps, {
          x1: () => 0,
          x2: () => 1,
          y1: ({ low }: { low: number }) => low * top,
          y2: ({ high }: { high: number }) => high * top,
          fill: ({ low, high }: { low: number; high: number }) => rampColour((low + high) / 2, scale.ramp),
          shapeRendering: "crispEdges",
        }),
        Plot.frame({ stroke: palette.quiet, strokeWidth: 0.8 }),
        Plot.text([`${scale.quantity} (${scale.unit})`], {
          frameAnchor: "top-left",
          dx: -42,
          dy: -18,
          fill: palette.ink,
        }),
      ],
    },
    canvas,
  );
}

/** Numbers of the regions, and what a dash means. */
export function keyPanel(regions: readonly OutlinedRegion[], width: number): SvgPanel {
  const key = regions.map(({ label }, i) => `${i + 1} ${label}`);
  const lines = key.length === 0 ? [] : flowText(key, Math.floor(width / 7));
  return textPanel([...lines, "A voxel with a dash is below \u22125 % of full scale."], { width });
}

/** Every voxel drawn: which view (from 0, in reading order), place of its centre, value. */
export function columnsOfViews(views: readonly SliceView[], map: GridMap): Figure["data"] {
  const rows = views.flatMap(({ plane, cells }, view) =>
    cells.map(({ left, right, low, high, value }) => {
      const at = [0, 0, 0];
      at[plane.across] = (left + right) / 2e3;
      at[plane.up] = (low + high) / 2e3;
      at[plane.normal] = plane.at_m;
      return { view, at, value };
    }),
  );
  return [
    { name: "view", unit: "1", values: rows.map(({ view }) => view) },
    ...[0, 1, 2].map((axis) => ({ name: axisName(axis), unit: "m", values: rows.map(({ at }) => at[axis]) })),
    {
      name: map.kind === "iron" ? "iron_concentration" : "signal",
      unit: map.unit,
      values: rows.map(({ value }) => value),
    },
  ];
}
