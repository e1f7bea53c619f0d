import { type KeyEntry, keyPanel } from "./key-panel.js";
import { plainNumber } from "./mass-unit.js";
import { palette } from "./palette.js";
import { groundOf } from "./panel-layout.js";
import { frameOf, type PlaneValues } from "./plane-cells.js";
import {
  type DirectionStroke,
  type PlaneDrawing,
  type PlaneLevel,
  type PlaneScale,
  planeEdges,
  planePanel,
  planeStrokes,
} from "./plane-panel.js";
import { type Canvas, renderPlot, type SvgPanel } from "./render.js";
import { sequentialColour } from "./sequential-ramp.js";

/** Planes side by side in one physical scale, as wide as the figure, the highest of them 460 at most. */
export function planeScalePerMm(slices: readonly PlaneValues[], width: number): number {
  const frames = slices.map(frameOf);
  const room = width - slices.length * (planeEdges.left + planeEdges.right);
  const across = frames.reduce((sum, { left, right }) => sum + right - left, 0);
  return Math.min(room / across, ...frames.map(({ low, high }) => 460 / (high - low)));
}

export interface PlaneRow extends Omit<PlaneDrawing, "perMm"> {
  readonly width: number;
  /** Directions, one list for each plane. */
  readonly strokes?: readonly (readonly DirectionStroke[])[];
  readonly strokeLength?: number;
}

/** Up to three planes side by side, their bar, and a key of what is drawn over them. */
export function planeRow(slices: readonly PlaneValues[], row: PlaneRow, key: readonly KeyEntry[]): SvgPanel[] {
  const { width, canvas, strokes = [], strokeLength } = row;
  const perMm = planeScalePerMm(slices, width);
  const panels = slices.map((slice, i) =>
    planePanel(slice, { ...row, perMm }, { strokes: strokes[i], ...(strokeLength && { strokeLength }) }),
  );
  let x = 0;
  const placed = panels.map((panel) => {
    const place = { panel, x, y: 0 };
    x += Number(panel.getAttribute("width"));
    return place;
  });
  return [
    groundOf(placed, { width }),
    barPanel(row.scale, { levels: row.levels, width, canvas }),
    keyPanel(key, { width, canvas }),
  ];
}

/** A bar that lies, with its unit on top and a line for each contour. */
export function barPanel(
  { ramp, low, high, factor, unit, quantity }: PlaneScale,
  { levels, width, canvas }: { levels: readonly PlaneLevel[]; width: number; canvas: Canvas },
): SvgPanel {
  const { Plot } = canvas;
  const [from, to] = [low * factor, high * factor];
  const parts = Array.from({ length: 128 }, (_, i) => i / 128);
  const lines = levels.map(({ value }) => value * factor).filter((value) => value > from && value < to);
  return renderPlot(
    {
      width: Math.min(width, 460),
      height: 66,
      marginLeft: planeEdges.left,
      marginRight: 24,
      marginTop: 24,
      marginBottom: 26,
      x: { type: "linear", domain: [from, to], label: null, ticks: 6, tickFormat: (v: number) => plainNumber(v, 4) },
      y: { axis: null, domain: [0, 1] },
      marks: [
        Plot.rect(parts, {
          x1: (t: number) => from + t * (to - from),
          x2: (t: number) => from + (t + 1 / 128) * (to - from),
          y1: () => 0,
          y2: () => 1,
          fill: (t: number) => sequentialColour(t + 1 / 256, ramp),
          shapeRendering: "crispEdges",
        }),
        Plot.ruleX(lines, { stroke: palette.paper, strokeWidth: 3.2, strokeOpacity: 0.75 }),
        Plot.ruleX(lines, { ...planeStrokes.contour }),
        Plot.frame({ stroke: palette.quiet, strokeWidth: 0.8 }),
        Plot.text([`${quantity} (${unit})`], {
          frameAnchor: "top-left",
          dy: -18,
          fill: palette.ink,
          textAnchor: "start",
        }),
      ],
      color: { type: "identity" },
    },
    canvas,
  );
}

const quiet = (words: string): KeyEntry => ({ words, colour: palette.quiet });

const ofLine = (words: string, { stroke, strokeWidth: width, ...rest }: (typeof planeStrokes)["bore"]): KeyEntry => ({
  words,
  colour: stroke,
  line: { width, dash: rest.strokeDasharray },
});

/** What is drawn besides the cells; entries without words are left out. */
export function planeKey(
  slices: readonly PlaneValues[],
  { boreOutline, marks = [], scale }: Pick<PlaneDrawing, "boreOutline" | "marks" | "scale">,
): KeyEntry[] {
  const kinds = new Set(marks.map(({ kind }) => kind));
  const lines: KeyEntry[] = kinds.has("line")
    ? [{ words: "field-free line", colour: planeStrokes.fieldFree.stroke, line: { width: 2.4 } }]
    : [];
  const point = kinds.has("point") ? "field-free point" : "field-free line where it crosses";
  const crosses: KeyEntry[] =
    kinds.size === 0 ? [] : [{ words: point, colour: planeStrokes.fieldFree.stroke, symbol: "times" }];
  const shown = (value: number) => `${plainNumber(value * scale.factor, 4)} ${scale.unit}`;
  const count = (isCounted: (value: number) => boolean) =>
    slices.reduce((sum, { values }) => sum + values.filter(isCounted).length, 0);
  const above = count((value) => value > scale.high * (1 + 1e-9));
  const below = count((value) => value < scale.low * (1 - 1e-9));
  const empty = count((value) => Number.isNaN(value));
  return [
    ...lines,
    ...crosses,
    ...(boreOutline === undefined ? [] : [ofLine("bore", planeStrokes.bore)]),
    quiet(above === 0 ? "" : `colours end at ${shown(scale.high)}; cells above it: ${above}`),
    quiet(below === 0 ? "" : `colours begin at ${shown(scale.low)}; cells below it: ${below}`),
    quiet(empty === 0 ? "" : `cells without a value, left white: ${empty}`),
  ];
}
