import { FerruleError } from "../errors.js";
import { checkLengths } from "./check-lengths.js";
import { fewLogTicks } from "./few-log-ticks.js";
import type { Figure, FigureColumn } from "./figure.js";
import type { FigureDocument } from "./figure-document.js";
import { headedSvg, type KeyEntry, keyPanel, type PanelSize } from "./key-panel.js";
import { logDomain, powerTick } from "./log-axis.js";
import { plainNumber } from "./mass-unit.js";
import { palette } from "./palette.js";
import { headingHeight, headingLines, headingMark } from "./panel-heading.js";
import { groundOf } from "./panel-layout.js";
import { openCanvas, renderPlot, type SvgPanel } from "./render.js";
import { checkSweep, sweepScale, titleOf } from "./sweep-axis.js";
import type { SweepAxis } from "./sweep-data.js";

/** A quantity against the sweep: one line for each series, with its uncertainty where it is given. */
export interface TradeOffLinesPanel {
  readonly name: string;
  readonly unit: string;
  readonly scale: "log" | "linear";
  /** In the order of `series`; NaN where there is none. Shape [n] each. */
  readonly lines: readonly TradeOffLine[];
}

export interface TradeOffLine {
  readonly values: Float64Array;
  readonly low?: Float64Array;
  readonly high?: Float64Array;
}

export interface TradeOffLinesFigureData {
  readonly title: string;
  readonly subtitle?: string;
  readonly x: SweepAxis;
  /** Names, such as "mouse bore", "head bore", "torso bore". */
  readonly series: readonly string[];
  readonly panels: readonly TradeOffLinesPanel[];
  /** What the bands hold: "95 % interval". */
  readonly bands?: string;
}

/** Told apart by colour (as `palette`, from memory), dash and mark. */
const looks = [
  { colour: palette.data, symbol: "circle", dash: undefined },
  { colour: palette.model, symbol: "square", dash: "7 3" },
  { colour: "#007a5a", symbol: "triangle", dash: "2 3" },
  { colour: "#9a4f7f", symbol: "diamond", dash: "9 3 2 3" },
  { colour: palette.ink, symbol: "times", dash: "5 2" },
] as const;

function checked({ x, series, panels }: TradeOffLinesFigureData): void {
  checkSweep(x, "x");
  const refuse = (path: string, found: string, accepted: string): never => {
    throw new FerruleError("InvalidValue", { path, found, accepted });
  };
  if (series.length === 0 || series.length > looks.length)
    refuse("series", `${series.length} series`, `1 to ${looks.length} series: more can't be told apart`);
  if (panels.length === 0) refuse("panels", "no panel", "one panel or more");
  panels.forEach(({ lines, scale }, p) => {
    const path = `panels[${p}].lines`;
    if (lines.length !== series.length)
      throw new FerruleError("ShapeMismatch", {
        path,
        found: `${lines.length} lines`,
        accepted: `${series.length} lines, one for each series`,
      });
    lines.forEach(({ values, low, high }, i) => {
      const own = { [`${path}[${i}].values`]: values, [`${path}[${i}].low`]: low, [`${path}[${i}].high`]: high };
      checkLengths(own, x.values.length, `one for each ${x.name}`);
      if ((low === undefined) !== (high === undefined))
        refuse(`${path}[${i}]`, "half a band", "both of low and high, or neither");
    });
    if (!lines.some(({ values }) => values.some((v) => isDrawn(v, scale))))
      refuse(path, "no value that can be drawn", scale === "log" ? "values above 0" : "finite values");
  });
}

const isDrawn = (value: number, scale: "log" | "linear"): boolean =>
  Number.isFinite(value) && (scale === "linear" || value > 0);

interface Point {
  readonly x: number;
  readonly y: number;
  readonly low: number;
  readonly high: number;
}

function pointsOf({ values, low, high }: TradeOffLine, x: SweepAxis, scale: "log" | "linear"): Point[] {
  return Array.from(x.values, (at, i) => ({
    x: at,
    // A gap in the line, not a jump over it.
    y: isDrawn(values[i], scale) ? values[i] : Number.NaN,
    low: low?.[i] ?? Number.NaN,
    high: high?.[i] ?? Number.NaN,
  }));
}

function yScale(lines: readonly Point[][], scale: "log" | "linear") {
  const drawn = lines
    .flat()
    .flatMap(({ y, low, high }) => [y, low, high])
    .filter((v) => isDrawn(v, scale));
  const rest = { label: null, grid: true };
  if (scale === "linear")
    return {
      ...rest,
      type: scale,
      domain: linearDomain(drawn),
      ticks: 5,
      tickFormat: (v: number) => plainNumber(v, 4),
    };
  const domain = logDomain(drawn, 0.06);
  return { ...rest, type: scale, domain, ticks: fewLogTicks(domain, 7), tickFormat: powerTick };
}

/** From zero, unless all values lie far from it or on both sides of it. */
function linearDomain(values: readonly number[]): [number, number] {
  const least = values.reduce((a, b) => Math.min(a, b));
  const most = values.reduce((a, b) => Math.max(a, b));
  const room = 0.06 * (most - least || Math.abs(most) || 1);
  return [least >= 0 && least < 0.7 * most ? 0 : least - room, most <= 0 && most > 0.7 * least ? 0 : most + room];
}

const edges = { left: 62, right: 14, bottom: 44 } as const;

function linesPanel(
  panel: TradeOffLinesPanel,
  x: SweepAxis,
  { width, canvas, headingRows: rows }: PanelSize & { headingRows: number },
): SvgPanel {
  const { Plot } = canvas;
  const { scale } = panel;
  const lines = panel.lines.map((line) => pointsOf(line, x, scale));
  const wide = width - edges.left - edges.right;
  const marginTop = headingHeight(rows);
  const [from, to] = [x.values[0], x.values[x.values.length - 1]];
  const y = yScale(lines, scale);
  const hasBand = ({ y: at, low, high }: Point) =>
    Number.isFinite(at) && Number.isFinite(high) && (scale === "linear" ? Number.isFinite(low) : high > 0);
  // What lies at or below zero has no place on a logarithmic axis: its band goes down to the edge.
  const lowEnd = ({ low }: Point) => (scale === "log" && !(low > 0) ? y.domain[0] : low);
  const few = x.values.length <= 15;
  return renderPlot(
    {
      width,
      height: marginTop + 172 + edges.bottom,
      marginLeft: edges.left,
      marginRight: edges.right,
      marginTop,
      marginBottom: edges.bottom,
      x: sweepScale(x, [from, to], { length: wide, labelOffset: 37 }),
      y,
      marks: [
        ...lines.map((points, i) =>
          Plot.areaY(
            points.map((point) => (hasBand(point) ? point : { ...point, low: Number.NaN, high: Number.NaN })),
            {
              x: "x",
              y1: (point: Point) => (Number.isFinite(point.high) ? lowEnd(point) : Number.NaN),
              y2: "high",
              fill: looks[i].colour,
              fillOpacity: 0.16,
            },
          ),
        ),
        ...lines.flatMap((points, i) => {
          const { colour, symbol, dash } = looks[i];
          const marked = points.filter(
            ({ y: at }, j) => Number.isFinite(at) && (few || j % Math.ceil(points.length / 8) === 0),
          );
          const line = { x: "x", y: "y", stroke: colour, strokeWidth: 2 };
          return [
            Plot.line(points, dash === undefined ? line : { ...line, strokeDasharray: dash }),
            Plot.dot(marked, { x: "x", y: "y", symbol, r: 3, stroke: colour, fill: palette.paper, strokeWidth: 1.5 }),
          ];
        }),
        headingMark(headingLines(panel, wide), Plot),
      ],
    },
    canvas,
  );
}

/**
 * Quantities against one sweep, a line for each series with its band, in small panels of their own.
 *
 * @throws FerruleError ShapeMismatch, InvalidValue
 */
export async function tradeOffLinesFigure(
  data: TradeOffLinesFigureData,
  { width = 720, document }: { width?: number; document?: FigureDocument } = {},
): Promise<Figure> {
  checked(data);
  const { x, series, panels, bands } = data;
  const size = { width, canvas: await openCanvas(document) };
  const perRow = panels.length === 1 ? 1 : 2;
  const wide = width / perRow;
  const room = wide - edges.left - edges.right;
  const headingRows = Math.max(...panels.map((panel) => headingLines(panel, room).length));
  const each = { width: wide, canvas: size.canvas, headingRows };
  const height = headingHeight(headingRows) + 172 + edges.bottom + 10;
  const placed = panels.map((panel, i) => ({
    panel: linesPanel(panel, x, each),
    x: (i % perRow) * each.width,
    y: Math.floor(i / perRow) * height,
  }));
  const hasBands = panels.some(({ lines }) => lines.some(({ low }) => low !== undefined));
  const key: KeyEntry[] = [
    ...series.map((words, i) => {
      const { colour, symbol, dash } = looks[i];
      return { words, colour, symbol, line: dash === undefined ? {} : { dash } };
    }),
    { words: hasBands ? (bands ?? "bands: from low to high") : "", colour: palette.quiet, band: true },
  ];
  const description = `${panels.map(({ name }) => name).join("; ")} over ${x.name}, for ${series.join(", ")}.`;
  const drawn = [keyPanel(key, size), groundOf(placed, { width })];
  return { svg: headedSvg(drawn, { ...data, description }, size), data: columnsOf(data) };
}

/** One row for each point of each line. */
function columnsOf({ x, series, panels }: TradeOffLinesFigureData): FigureColumn[] {
  const rows = panels.flatMap(({ lines }, p) =>
    lines.flatMap(({ values, low, high }, s) =>
      Array.from(x.values, (at, i) => [p + 1, s + 1, at, values[i], low?.[i], high?.[i]]),
    ),
  );
  const numbered = (names: readonly string[]) => names.map((name, i) => `${i + 1}: ${name}`).join("; ");
  const heads = [
    ["panel", numbered(panels.map(titleOf))],
    ["series", numbered(series)],
    ["sweep", titleOf(x)],
    ["value", "unit of the panel"],
    ["low", "unit of the panel"],
    ["high", "unit of the panel"],
  ];
  return heads.map(([name, unit], j) => ({ name, unit, values: rows.map((row) => row[j] ?? Number.NaN) }));
}
