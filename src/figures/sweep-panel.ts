import { contourLabels, type PlacedLabel } from "./contour-labels.js";
import { type ContourGrid, type ContourPoint, contourLines } from "./contour-lines.js";
import { fewLogTicks } from "./few-log-ticks.js";
import { logTicks, powerTick } from "./log-axis.js";
import { plainNumber } from "./mass-unit.js";
import { palette } from "./palette.js";
import { headingHeight, headingLines, headingMark } from "./panel-heading.js";
import { groundOf } from "./panel-layout.js";
import { planeStrokes, rimmedLines } from "./plane-panel.js";
import { type Canvas, renderPlot, type SvgPanel } from "./render.js";
import { roundLevels } from "./round-levels.js";
import { sequentialColour } from "./sequential-ramp.js";
import { axisPlaces, cellEdges, sweepScale } from "./sweep-axis.js";
import type { SweepAxis, TradeOffPanel } from "./sweep-data.js";

export interface SweepFrame {
  readonly x: SweepAxis;
  readonly y: SweepAxis;
  readonly width: number;
  /** Lines of the longest heading beside it. */
  readonly headingRows: number;
  readonly canvas: Canvas;
}

export const sweepEdges = { left: 58, right: 12, bottom: 44 } as const;
export const sweepHeight = 190;

/** Cells of the sweep with their number; edges in the units of the axes. */
export function sweepCells(x: SweepAxis, y: SweepAxis) {
  const [xEdges, yEdges] = [cellEdges(x), cellEdges(y)];
  const columns = x.values.length;
  return Array.from({ length: columns * y.values.length }, (_, i) => {
    const [row, column] = [Math.floor(i / columns), i % columns];
    return { i, left: xEdges[column], right: xEdges[column + 1], low: yEdges[row], high: yEdges[row + 1] };
  });
}

export type SweepCell = ReturnType<typeof sweepCells>[number];

/** Size, margins and both axes of a panel over two sweeps. */
export function sweepOutline({ x, y, width, headingRows }: SweepFrame) {
  const top = headingHeight(headingRows);
  const [xEdges, yEdges] = [cellEdges(x), cellEdges(y)];
  const xRange = [xEdges[0], xEdges[xEdges.length - 1]] as const;
  const yRange = [yEdges[0], yEdges[yEdges.length - 1]] as const;
  const wide = width - sweepEdges.left - sweepEdges.right;
  return {
    xRange,
    yRange,
    wide,
    spec: {
      width,
      height: top + sweepHeight + sweepEdges.bottom,
      marginLeft: sweepEdges.left,
      marginRight: sweepEdges.right,
      marginTop: top,
      marginBottom: sweepEdges.bottom,
      x: sweepScale(x, xRange, { length: wide, labelOffset: 37 }),
      y: sweepScale(y, yRange, { length: sweepHeight, labelOffset: 48 }),
      color: { type: "identity" as const },
    },
  };
}

/** Ends of the colours, and the part of full scale of a value. */
function colouring({ values, scale }: TradeOffPanel) {
  const usable = [...values].filter((v) => Number.isFinite(v) && (scale === "linear" || v > 0));
  const [least, most] = usable.reduce(([a, b], v) => [Math.min(a, v), Math.max(b, v)], [usable[0], usable[0]]);
  // One value everywhere still needs a range.
  const isFlat = least === most;
  const room = least === 0 ? 1 : Math.abs(least) * 0.1;
  const [from, to] = isFlat ? [least - room, most + room] : [least, most];
  const isLog = scale === "log";
  const part = (v: number) => (isLog ? Math.log(v / from) / Math.log(to / from) : (v - from) / (to - from));
  const isUsable = (v: number) => Number.isFinite(v) && (!isLog || v > 0);
  const levels = isFlat
    ? []
    : isLog
      ? logTicks([from, to]).filter((v) => v > from && v < to)
      : roundLevels(from, to, 4);
  return { from, to, part, isUsable, levels };
}

const shown = (value: number, scale: "log" | "linear"): string =>
  scale === "log" ? powerTick(value) : plainNumber(value, 4);

/** Contours in picture elements; linear between cells on the scales that are drawn. */
function contours({ x, y, wide, xRange, yRange }: SweepFrame & ReturnType<typeof sweepOutline>, panel: TradeOffPanel) {
  const { levels, part, isUsable } = colouring(panel);
  const [xs, ys] = [axisPlaces(x, xRange), axisPlaces(y, yRange)];
  const grid: ContourGrid = {
    x: x.values.map((v) => xs.part(v) * wide),
    y: y.values.map((v) => ys.part(v) * sweepHeight),
    values: panel.values.map((v) => (isUsable(v) ? part(v) : Number.NaN)),
  };
  const drawn = levels.map((level) => ({ words: [shown(level, panel.scale)], lines: contourLines(grid, part(level)) }));
  const labels = contourLabels(drawn, { frame: { left: 0, right: wide, low: 0, high: sweepHeight } });
  const back = ([px, py]: ContourPoint): ContourPoint => [xs.value(px / wide), ys.value(py / sweepHeight)];
  return {
    lines: drawn.flatMap(({ lines }) => lines.map((line) => line.map(back))),
    labels: labels.map(({ x: px, y: py, words }): PlacedLabel => {
      const [left, up] = back([px, py]);
      return { x: left, y: up, words };
    }),
  };
}

/** A quantity over two sweeps: cells, labelled contours, and its own bar below. */
export function sweepPanel(panel: TradeOffPanel, frame: SweepFrame): SvgPanel {
  const { canvas, width, x, y } = frame;
  const { Plot } = canvas;
  const outline = sweepOutline(frame);
  const { part, isUsable } = colouring(panel);
  const { lines, labels } = contours({ ...frame, ...outline }, panel);
  const cells = sweepCells(x, y);
  const face = { x1: "left", x2: "right", y1: "low", y2: "high" } as const;
  const map = renderPlot(
    {
      ...outline.spec,
      marks: [
        Plot.rect(
          cells.filter(({ i }) => isUsable(panel.values[i])),
          {
            ...face,
            fill: ({ i }: SweepCell) => sequentialColour(part(panel.values[i]), "field"),
            shapeRendering: "crispEdges",
          },
        ),
        ...emptyMarks(
          cells.filter(({ i }) => !isUsable(panel.values[i])),
          Plot,
        ),
        ...rimmedLines(lines, planeStrokes.contour, Plot),
        Plot.text(labels, {
          x: "x",
          y: "y",
          text: "words",
          fill: palette.ink,
          stroke: palette.paper,
          strokeWidth: 4,
          fontSize: 12,
        }),
        Plot.frame({ stroke: palette.quiet, strokeWidth: 0.8 }),
        headingMark(headingLines(panel, outline.wide), Plot),
      ],
    },
    canvas,
  );
  const bar = panelBar(panel, { width, canvas });
  return groundOf(
    [
      { panel: map, x: 0, y: 0 },
      { panel: bar, x: 0, y: Number(map.getAttribute("height")) },
    ],
    { width },
  );
}

/** A cell without a value. */
export const emptyMarks = (cells: readonly SweepCell[], Plot: Canvas["Plot"]) => [
  Plot.link(cells, { x1: "left", y1: "low", x2: "right", y2: "high", stroke: palette.rule }),
  Plot.link(cells, { x1: "left", y1: "high", x2: "right", y2: "low", stroke: palette.rule }),
];

function panelBar(panel: TradeOffPanel, { width, canvas }: { width: number; canvas: Canvas }): SvgPanel {
  const { Plot } = canvas;
  const { from, to } = colouring(panel);
  const places = axisPlaces({ name: "", unit: "", values: new Float64Array(), scale: panel.scale }, [from, to]);
  const steps = Array.from({ length: 64 }, (_, i) => i / 64);
  const ticks = panel.scale === "log" ? fewLogTicks([from, to], 3) : roundLevels(from, to, 3);
  return renderPlot(
    {
      width,
      height: 44,
      marginLeft: sweepEdges.left,
      marginRight: sweepEdges.right,
      marginTop: 4,
      marginBottom: 28,
      x: {
        type: panel.scale,
        domain: [from, to],
        label: null,
        ticks,
        tickFormat: (v: number) => shown(v, panel.scale),
      },
      y: { axis: null, domain: [0, 1] },
      color: { type: "identity" },
      marks: [
        Plot.rect(steps, {
          x1: (t: number) => places.value(t),
          x2: (t: number) => places.value(t + 1 / 64),
          y1: () => 0,
          y2: () => 1,
          fill: (t: number) => sequentialColour(t + 1 / 128, "field"),
          shapeRendering: "crispEdges",
        }),
        Plot.frame({ stroke: palette.quiet, strokeWidth: 0.8 }),
      ],
    },
    canvas,
  );
}
