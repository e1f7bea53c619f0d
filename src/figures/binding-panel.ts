import type { Frame, Point } from "./clip-line.js";
import { fallingLines, latticePoints, risingLines } from "./hatching.js";
import { verdictWords } from "./limit-words.js";
import { palette } from "./palette.js";
import { headingLines, headingMark } from "./panel-heading.js";
import { type Canvas, renderPlot, type SvgPanel } from "./render.js";
import { axisPlaces } from "./sweep-axis.js";
import type { BindingLimits } from "./sweep-data.js";
import { type SweepCell, type SweepFrame, sweepCells, sweepHeight, sweepOutline } from "./sweep-panel.js";

/** Greys by verdict; hatching says the same again, for print and for pale screens. */
const greys = ["#ffffff", "#e4e4e4", "#bfbfbf", "#ffffff"] as const;
const gap = 7;

interface Hatch {
  readonly lines: readonly (readonly [Point, Point])[];
  readonly dots: readonly Point[];
}

/** Nothing; lines one way; lines both ways; dots. */
function hatchOf(verdict: number, frame: Frame): Hatch {
  const lines = [
    ...(verdict === 1 || verdict === 2 ? risingLines(frame, gap) : []),
    ...(verdict === 2 ? fallingLines(frame, gap) : []),
  ];
  return { lines, dots: verdict === 3 ? latticePoints(frame, gap) : [] };
}

function hatchMarks(hatches: readonly Hatch[], place: (point: Point) => Point, Plot: Canvas["Plot"]) {
  const ends = hatches.flatMap(({ lines }) => lines.map(([a, b]) => [...place(a), ...place(b)]));
  const dots = hatches.flatMap((hatch) => hatch.dots.map(place));
  return [
    Plot.link(ends, { x1: "0", y1: "1", x2: "2", y2: "3", stroke: palette.quiet, strokeWidth: 0.7 }),
    Plot.dot(dots, { x: "0", y: "1", r: 0.9, fill: palette.quiet }),
  ];
}

/** Groups of cells that touch along a side and share both numbers. */
function regionsOf({ index, verdict }: BindingLimits, columns: number): number[][] {
  const seen = new Uint8Array(index.length);
  const isSame = (a: number, b: number) => index[a] === index[b] && verdict[a] === verdict[b];
  const neighbours = (i: number) =>
    [i % columns > 0 ? i - 1 : -1, i % columns < columns - 1 ? i + 1 : -1, i - columns, i + columns].filter(
      (j) => j >= 0 && j < index.length,
    );
  return Array.from(index, (_, start) => {
    if (seen[start] === 1) return [];
    const region = [start];
    seen[start] = 1;
    for (let k = 0; k < region.length; k++)
      for (const j of neighbours(region[k])) {
        if (seen[j] === 1 || !isSame(j, start)) continue;
        seen[j] = 1;
        region.push(j);
      }
    return region;
  }).filter(({ length }) => length > 0);
}

/** The cell of a region that is nearest to the middle of it. */
function middleCell(region: readonly number[], columns: number): number {
  const mean = (of: (i: number) => number) => region.reduce((sum, i) => sum + of(i), 0) / region.length;
  const [c, r] = [mean((i) => i % columns), mean((i) => Math.floor(i / columns))];
  const away = (i: number) => Math.hypot((i % columns) - c, Math.floor(i / columns) - r);
  return region.reduce((best, i) => (away(i) < away(best) - 1e-9 ? i : best));
}

/** Sides between cells of different numbers, as lines in the units of the axes. */
function borders(cells: readonly SweepCell[], { index, verdict }: BindingLimits, columns: number) {
  const differ = (a: number, b: number) => index[a] !== index[b] || verdict[a] !== verdict[b];
  return cells.flatMap(({ i, left, right, low, high }) => {
    const right1 = (i + 1) % columns !== 0 && differ(i, i + 1) ? [{ x1: right, x2: right, y1: low, y2: high }] : [];
    const above =
      i + columns < cells.length && differ(i, i + columns) ? [{ x1: left, x2: right, y1: high, y2: high }] : [];
    return [...right1, ...above];
  });
}

export const bindingHeading = (limits: BindingLimits) => ({ name: `First limit, ${limits.class}`, unit: "1" });

/** Greys and hatching by verdict, and in every region the number of the limit that is reached first there. */
export function bindingPanel(limits: BindingLimits, frame: SweepFrame): SvgPanel {
  const { x, y, canvas } = frame;
  const { Plot } = canvas;
  const { spec, wide, xRange, yRange } = sweepOutline(frame);
  const columns = x.values.length;
  const cells = sweepCells(x, y);
  const [xs, ys] = [axisPlaces(x, xRange), axisPlaces(y, yRange)];
  const inPixels = ({ left, right, low, high }: SweepCell): Frame => ({
    left: xs.part(left) * wide,
    right: xs.part(right) * wide,
    low: ys.part(low) * sweepHeight,
    high: ys.part(high) * sweepHeight,
  });
  const back = ([px, py]: Point): Point => [xs.value(px / wide), ys.value(py / sweepHeight)];
  const hatches = cells.map((cell) => hatchOf(limits.verdict[cell.i], inPixels(cell)));
  const numbers = regionsOf(limits, columns).map((region) => {
    const cell = middleCell(region, columns);
    return { x: x.values[cell % columns], y: y.values[Math.floor(cell / columns)], index: limits.index[cell] };
  });
  const face = { x1: "left", x2: "right", y1: "low", y2: "high" } as const;
  return renderPlot(
    {
      ...spec,
      marks: [
        Plot.rect(cells, {
          ...face,
          fill: ({ i }: SweepCell) => greys[limits.verdict[i]],
          shapeRendering: "crispEdges",
        }),
        ...hatchMarks(hatches, back, Plot),
        Plot.link(borders(cells, limits, columns), {
          x1: "x1",
          x2: "x2",
          y1: "y1",
          y2: "y2",
          stroke: palette.ink,
          strokeWidth: 1.2,
        }),
        Plot.text(
          numbers.filter(({ index }) => index >= 0),
          {
            x: "x",
            y: "y",
            text: ({ index }: { index: number }) => String(index + 1),
            fill: palette.ink,
            stroke: palette.paper,
            strokeWidth: 5,
            fontWeight: "bold",
          },
        ),
        Plot.frame({ stroke: palette.quiet, strokeWidth: 0.8 }),
        headingMark(headingLines(bindingHeading(limits), wide), Plot),
      ],
    },
    canvas,
  );
}

/** Samples of the greys with their words, one below the other: all four, so that what does not occur is seen to be so. */
export function verdictKey({ width, canvas }: { width: number; canvas: Canvas }): SvgPanel {
  const { Plot } = canvas;
  const rows = verdictWords.map((words, i) => ({ words, i, y: 14 + 21 * i }));
  type Row = (typeof rows)[number];
  const frames = rows.map(({ y }) => ({ left: 16, right: 50, low: y - 7, high: y + 7 }));
  const flat = { type: "identity", axis: null } as const;
  const sides = {
    x1: () => 16,
    x2: () => 50,
    y1: ({ y }: Row) => y - 7,
    y2: ({ y }: Row) => y + 7,
  };
  return renderPlot(
    {
      width,
      height: 21 * rows.length + 10,
      margin: 0,
      x: flat,
      y: flat,
      color: flat,
      marks: [
        Plot.rect(rows, { ...sides, fill: ({ i }: Row) => greys[i] }),
        ...hatchMarks(
          frames.map((frame, i) => hatchOf(i, frame)),
          (point) => point,
          Plot,
        ),
        Plot.rect(rows, { ...sides, stroke: palette.quiet, fill: "none" }),
        Plot.text(rows, { x: () => 60, y: "y", text: "words", textAnchor: "start", fill: palette.ink }),
      ],
    },
    canvas,
  );
}

/** "1 nerve stimulation, drive x", one for each limit that is reached first somewhere. */
export const bindingNames = ({ names, index }: BindingLimits): string[] =>
  names.flatMap((name, i) => (index.includes(i) ? [`${i + 1} ${name}`] : []));
