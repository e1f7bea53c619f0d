import { centred, letter_px, type PanelSize } from "./key-panel.js";
import type { LimitBar, LimitGroup } from "./limit-group.js";
import { labelPlace } from "./limit-label-place.js";
import { type LimitRow, limitRows, ratioText, rowWords, valueText } from "./limit-rows.js";
import { verdictWords } from "./limit-words.js";
import { powerTick } from "./log-axis.js";
import { palette } from "./palette.js";
import { type Canvas, renderPlot, type SvgPanel } from "./render.js";

/** What the groups of a figure share. */
export interface LimitFrame extends PanelSize {
  readonly domain: readonly [number, number];
  readonly ticks: readonly number[];
  /** Footnotes of the whole figure. */
  readonly cautions: readonly string[];
  /** The word "limit" stands over the line at 1, and the axis has its numbers. */
  readonly hasWord: boolean;
  readonly hasAxis: boolean;
}

const right = 20;
const textWidth = (width: number): number => Math.round(0.48 * width);

/** Width of what the axis spans. */
export const limitAxisWidth = (width: number): number => width - textWidth(width) - right;

function textMarks(rows: readonly LimitRow[], left: number, Plot: Canvas["Plot"]) {
  const place = { frameAnchor: "left", dx: 26 - left, y: "y", text: "words", textAnchor: "start" } as const;
  return [
    Plot.text(rowWords(rows, "label"), { ...place, fill: palette.ink }),
    Plot.text(rowWords(rows, "sources"), { ...place, fill: palette.quiet, fontSize: 11.5 }),
  ];
}

/** A bar held inside the axis; what reaches 0 begins at its edge. */
interface DrawnBar {
  readonly low: number;
  readonly high: number;
  readonly y: number;
  readonly fromZero: boolean;
  readonly isZero: boolean;
  /** Value over limit, and the two themselves below. */
  readonly words: readonly string[];
}

const wordsOf = (bar: LimitBar): string[] => [ratioText(bar), valueText(bar)].filter((words) => words !== "");

function drawnBars(rows: readonly LimitRow[], [edge]: readonly [number, number]): DrawnBar[] {
  return rows.flatMap(({ bar, middle: y }) => {
    const { ratioLow, ratioHigh } = bar;
    if (ratioLow === null || ratioHigh === null) return [];
    const [low, high] = [Math.max(ratioLow, edge), Math.max(ratioHigh, edge)];
    return [{ low, high, y, fromZero: ratioLow === 0, isZero: ratioHigh === 0, words: wordsOf(bar) }];
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

/** The words of each bar beside it, or below where there is no room; those that cannot avoid the line of the limit hide it behind them. */
function labelMarks(bars: readonly DrawnBar[], { domain: [from, to], width, canvas: { Plot } }: LimitFrame) {
  const wide = limitAxisWidth(width);
  const at = (value: number) => (wide * Math.log(value / from)) / Math.log(to / from);
  const labels = bars.map(({ low, high, y, words }) => {
    const length_px = letter_px * Math.max(...words.map((each) => each.length));
    const span = { low_px: at(low), high_px: at(high), limit_px: at(1), end_px: wide + right - 4 };
    const { x_px, anchor, crosses } = labelPlace(span, length_px);
    return { x: from * (to / from) ** (x_px / wide), y, words: words.join("\n"), anchor, crosses };
  });
  const look = { x: "x", y: "y", text: "words", lineHeight: 1.2, fill: palette.ink, stroke: palette.paper };
  return (["start", "end", "middle"] as const).flatMap((textAnchor) =>
    [false, true].map((crosses) => {
      const here = labels.filter((label) => label.anchor === textAnchor && label.crosses === crosses);
      const below = textAnchor === "middle" ? ({ lineAnchor: "top", dy: 10 } as const) : {};
      return Plot.text(here, { ...look, ...below, textAnchor, strokeWidth: crosses ? 10 : 4 });
    }),
  );
}

/** Lines without a threshold: their value, and that there is none. */
function unknownMark(rows: readonly LimitRow[], width: number, Plot: Canvas["Plot"]) {
  const none = verdictWords[3];
  // In two rows where one is too long.
  const words = limitAxisWidth(width) > 280 ? none : none.replace(" in our", "\nin our");
  return Plot.text(
    rows.filter(({ bar }) => bar.ratioHigh === null),
    {
      frameAnchor: "left",
      y: "middle",
      dx: 8,
      text: ({ bar }: LimitRow) => (bar.value === undefined ? words : `${bar.value}:\n${words}`),
      textAnchor: "start",
      lineHeight: 1.2,
      fill: palette.quiet,
      stroke: palette.paper,
      strokeWidth: 6,
    },
  );
}

/** One class: its name, its lines, and the line at 1 beside those that have a limit. */
export function limitPanel({ class: name, lines }: LimitGroup, frame: LimitFrame): SvgPanel {
  const { width, canvas, domain, ticks, cautions, hasWord, hasAxis } = frame;
  const { Plot } = canvas;
  const left = textWidth(width);
  const marginTop = hasWord ? 46 : 30;
  const marginBottom = hasAxis ? 44 : 8;
  const rows = limitRows(lines, { start: marginTop, room: left - 30, cautions });
  const bars = drawnBars(rows, domain);
  const known = rows.filter(({ bar }) => bar.ratioHigh !== null);
  const limitLine = { x: () => 1, y1: "top", y2: "bottom", stroke: palette.ink, strokeWidth: 1.6 };
  const word = Plot.text(["limit"], { x: () => 1, frameAnchor: "top", dy: -16, fill: palette.ink });
  const title = Plot.text([`${name[0].toUpperCase()}${name.slice(1)}`], {
    frameAnchor: "top-left",
    dx: 16 - left,
    dy: -20,
    fontWeight: "bold",
    fill: palette.ink,
  });
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
        title,
        ...textMarks(rows, left, Plot),
        ...barMarks(bars, Plot),
        ...labelMarks(bars, frame),
        unknownMark(rows, width, Plot),
      ],
    },
    canvas,
  );
}
