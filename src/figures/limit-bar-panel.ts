import { centred, type PanelSize } from "./key-panel.js";
import type { LimitBar, LimitGroup } from "./limit-group.js";
import { verdictWords } from "./limit-words.js";
import { powerTick } from "./log-axis.js";
import { plainNumber } from "./mass-unit.js";
import { palette } from "./palette.js";
import { flowText } from "./panel-layout.js";
import { type Canvas, renderPlot, type SvgPanel } from "./render.js";

/** What the groups of a figure share. */
export interface LimitFrame extends PanelSize {
  readonly domain: readonly [number, number];
  readonly ticks: readonly number[];
  /** The word "limit" stands over the line at 1, and the axis has its numbers. */
  readonly hasWord: boolean;
  readonly hasAxis: boolean;
}

export function ratioText({ ratioLow, ratioHigh }: LimitBar): string {
  if (ratioLow === null || ratioHigh === null) return verdictWords[3];
  const [low, high] = [plainNumber(ratioLow, 2), plainNumber(ratioHigh, 2)];
  return low === high ? low : `${low} to ${high}`;
}

const lineHeight = 16;
const right = 20;
const textWidth = (width: number): number => Math.min(316, Math.round(0.48 * width));

/** A line of the figure with its words in rows; picture elements from the top of its panel. */
interface Row {
  readonly bar: LimitBar;
  readonly label: readonly string[];
  readonly source: readonly string[];
  readonly top: number;
  readonly bottom: number;
  readonly middle: number;
}

/** At most so many rows; the last ends in an ellipsis where words are left. */
function flowed(text: string, letters: number, most: number): string[] {
  const rows = flowText(text.split(" "), letters, " ");
  if (rows.length <= most) return rows;
  return [...rows.slice(0, most - 1), `${rows[most - 1].slice(0, letters - 1)}\u2026`];
}

function rowsOf(lines: readonly LimitBar[], { start, width }: { start: number; width: number }): Row[] {
  const room = textWidth(width) - 30;
  let top = start;
  return lines.map((bar) => {
    const label = flowed(bar.label, Math.floor(room / 7.3), 2); // 13 px
    const source = flowed(bar.source, Math.floor(room / 6.5), 3); // 11.5 px
    const height = lineHeight * (label.length + source.length) + 10;
    const row = { bar, label, source, top, bottom: top + height, middle: top + height / 2 - 2 };
    top += height;
    return row;
  });
}

function textMarks(rows: readonly Row[], left: number, Plot: Canvas["Plot"]) {
  const lines = (side: "label" | "source") =>
    rows.flatMap((row) => {
      const first = side === "label" ? 0 : row.label.length;
      return row[side].map((words, i) => ({ words, y: row.top + 13 + lineHeight * (first + i) }));
    });
  const place = { frameAnchor: "left", dx: 26 - left, y: "y", text: "words", textAnchor: "start" } as const;
  return [
    Plot.text(lines("label"), { ...place, fill: palette.ink }),
    Plot.text(lines("source"), { ...place, fill: palette.quiet, fontSize: 11.5 }),
  ];
}

/** A bar held inside the axis; what reaches 0 begins at its edge. */
interface DrawnBar {
  readonly low: number;
  readonly high: number;
  readonly y: number;
  readonly fromZero: boolean;
  readonly isZero: boolean;
  readonly words: string;
}

function drawnBars(rows: readonly Row[], [edge]: readonly [number, number]): DrawnBar[] {
  return rows.flatMap(({ bar, middle: y }) => {
    const { ratioLow, ratioHigh } = bar;
    if (ratioLow === null || ratioHigh === null) return [];
    const [low, high] = [Math.max(ratioLow, edge), Math.max(ratioHigh, edge)];
    return [{ low, high, y, fromZero: ratioLow === 0, isZero: ratioHigh === 0, words: ratioText(bar) }];
  });
}

/** Intervals as thick lines with ends; a single value as its end alone; an arrow where it reaches 0. */
function barMarks(bars: readonly DrawnBar[], Plot: Canvas["Plot"]) {
  const end = (side: "low" | "high") => ({
    x: side,
    y1: ({ y }: DrawnBar) => y - 7,
    y2: ({ y }: DrawnBar) => y + 7,
    stroke: palette.ink,
    strokeWidth: 2.4,
  });
  const inside = bars.filter(({ fromZero }) => !fromZero);
  const notZero = bars.filter(({ isZero }) => !isZero);
  const arrow = { x: "low", y: "y", symbol: "triangle", rotate: -90, dx: 5, r: 5, fill: palette.ink } as const;
  return [
    Plot.link(bars, { x1: "low", x2: "high", y: "y", stroke: palette.quiet, strokeWidth: 9, strokeOpacity: 0.6 }),
    Plot.link(inside, end("low")),
    Plot.link(notZero, end("high")),
    Plot.dot(
      bars.filter(({ fromZero }) => fromZero),
      arrow,
    ),
  ];
}

/** Width of what the axis spans. */
export const limitAxisWidth = (width: number): number => width - textWidth(width) - right;

/** The numbers right of their bar or left of it, where there is room, off the line of the limit if they can; else on it. */
function numberMarks(bars: readonly DrawnBar[], { domain: [from, to], width, canvas: { Plot } }: LimitFrame) {
  const wide = limitAxisWidth(width);
  const at = (value: number) => (wide * Math.log(value / from)) / Math.log(to / from);
  const sideOf = ({ low, high, words }: DrawnBar): "after" | "before" | "on" => {
    const room = 7.6 * words.length + 16;
    const spans = [
      { side: "after", from: at(high), to: at(high) + room },
      { side: "before", from: at(low) - room, to: at(low) },
    ] as const;
    const fitting = spans.filter((span) => span.from >= 0 && span.to <= wide + right);
    const clear = fitting.find((span) => span.to < at(1) || span.from + 8 > at(1));
    return (clear ?? fitting[0])?.side ?? "on";
  };
  const look = { y: "y", text: "words", fill: palette.ink, stroke: palette.paper, strokeWidth: 4 };
  const on = (side: ReturnType<typeof sideOf>) => bars.filter((bar) => sideOf(bar) === side);
  const middle = ({ low, high }: DrawnBar) => Math.sqrt(low * high);
  return [
    Plot.text(on("after"), { ...look, x: "high", dx: 12, textAnchor: "start" }),
    Plot.text(on("before"), { ...look, x: "low", dx: -9, textAnchor: "end" }),
    Plot.text(on("on"), { ...look, x: middle }),
  ];
}

/** One class: its name, its lines, and the line at 1 beside those that have a limit. */
export function limitPanel({ class: name, lines }: LimitGroup, frame: LimitFrame): SvgPanel {
  const { width, canvas, domain, ticks, hasWord, hasAxis } = frame;
  const { Plot } = canvas;
  const left = textWidth(width);
  const marginTop = hasWord ? 46 : 30;
  const marginBottom = hasAxis ? 44 : 8;
  const rows = rowsOf(lines, { start: marginTop, width });
  const bars = drawnBars(rows, domain);
  const known = rows.filter(({ bar }) => bar.ratioHigh !== null);
  // In two rows where one is too long.
  const words = limitAxisWidth(width) > 280 ? verdictWords[3] : verdictWords[3].replace(" in our", "\nin our");
  const unknown = rows.filter(({ bar }) => bar.ratioHigh === null);
  const limitLine = { x: () => 1, y1: "top", y2: "bottom", stroke: palette.ink, strokeWidth: 1.6 };
  const word = Plot.text(["limit"], { x: () => 1, frameAnchor: "top", dy: -16, fill: palette.ink });
  return renderPlot(
    {
      width,
      height: rows[rows.length - 1].bottom + marginBottom,
      marginLeft: left,
      marginRight: right,
      marginTop,
      marginBottom,
      x: {
        type: "log",
        domain,
        ticks,
        tickFormat: hasAxis ? powerTick : () => "",
        tickSize: hasAxis ? 6 : 0,
        grid: true,
        label: hasAxis ? "Value / limit" : null,
        ...centred,
        labelOffset: 37,
      },
      y: { type: "identity", axis: null },
      marks: [
        Plot.link(known, limitLine),
        ...(hasWord ? [word] : []),
        Plot.text([`${name[0].toUpperCase()}${name.slice(1)}`], {
          frameAnchor: "top-left",
          dx: 16 - left,
          dy: -20,
          fontWeight: "bold",
          fill: palette.ink,
        }),
        ...textMarks(rows, left, Plot),
        ...barMarks(bars, Plot),
        ...numberMarks(bars, frame),
        Plot.text(unknown, {
          frameAnchor: "left",
          y: "middle",
          dx: 8,
          text: () => words,
          textAnchor: "start",
          fill: palette.quiet,
          stroke: palette.paper,
          strokeWidth: 6,
        }),
      ],
    },
    canvas,
  );
}
