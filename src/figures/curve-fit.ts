import { FerruleError } from "../errors.js";
import { fieldAxis, fieldTick } from "./field-axis.js";
import type { Figure } from "./figure.js";
import type { FigureDocument } from "./figure-document.js";
import { palette } from "./palette.js";
import { type Canvas, openCanvas, renderPlot, toSvg } from "./render.js";

/** A measured curve, a model of it and what is left over. Arrays of one length, in the order of acquisition. */
export interface CurveFitFigureData {
  readonly title: string;
  readonly subtitle?: string;
  /** mu0*H, T */
  readonly field_T: Float64Array;
  readonly magnetisation: Float64Array;
  readonly sigma?: Float64Array;
  /** The model at the same fields. */
  readonly fitted: Float64Array;
  /** The model on a finer grid, for a smooth line; without it the line joins the fitted values. */
  readonly line?: { readonly field_T: Float64Array; readonly magnetisation: Float64Array };
  /** Unit of the magnetisation, e.g. "A.m2/kg", and what it is divided by, e.g. "per kg of iron oxide (assumed)". */
  readonly magnetisationUnit: string;
  readonly basis: string;
}

export interface CurveFitFigureOptions {
  readonly width?: number;
  /** The page's document, when drawn in a page. */
  readonly document?: FigureDocument;
}

interface Point {
  readonly field_mT: number;
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly residual: number;
}

/** A dot between unit symbols is for machines; people read A m2/kg with a raised two. */
const readableUnit = (unit: string): string =>
  unit.replaceAll(".", " ").replaceAll("2", "\u00b2").replaceAll("3", "\u00b3");

function pointsOf({ field_T, magnetisation, sigma, fitted }: CurveFitFigureData): Point[] {
  for (const [path, values] of Object.entries({ magnetisation, sigma, fitted })) {
    if (values === undefined || values.length === field_T.length) continue;
    const found = `${values.length} values`;
    throw new FerruleError("ShapeMismatch", { path, found, accepted: `${field_T.length} values, one for each field` });
  }
  return Array.from(field_T, (field, i) => {
    const s = sigma?.[i] ?? 0;
    const value = magnetisation[i];
    const residual = (value - fitted[i]) / (sigma?.[i] ?? 1);
    return { field_mT: field * 1e3, value, low: value - s, high: value + s, residual };
  });
}

/** More marks than this no page resolves, and every 1000 of them make 0.15 MB of SVG. */
const mostMarks = 2000;

/** Every k-th point in the order of acquisition, so that at most `mostMarks` are drawn. The CSV keeps all. */
export function thinned<T>(points: readonly T[]): { readonly shown: readonly T[]; readonly words: string } {
  const every = Math.ceil(points.length / mostMarks);
  if (every <= 1) return { shown: points, words: "" };
  const shown = points.filter((_, i) => i % every === 0);
  return { shown, words: `${shown.length} of ${points.length} points drawn (one in ${every})` };
}

const extent = <T>(items: readonly T[], value: (item: T) => number, start: readonly [number, number]) =>
  items.reduce(([low, high], item) => [Math.min(low, value(item)), Math.max(high, value(item))] as const, start);

const nothing = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY] as const;

const yLabel = { labelArrow: "none", labelAnchor: "center", labelOffset: 56 } as const;
const margins = { marginLeft: 68, marginRight: 20 };

function curvePanel(
  data: CurveFitFigureData,
  points: readonly Point[],
  { width, canvas }: { width: number; canvas: Canvas },
) {
  const { Plot } = canvas;
  const { field_T, magnetisation } = data.line ?? { field_T: data.field_T, magnetisation: data.fitted };
  const all = Array.from(field_T, (field, i) => ({ field_mT: field * 1e3, value: magnetisation[i] }));
  const line = thinned(all).shown;
  const x = { ...fieldAxis(points.map(({ field_mT }) => field_mT)), label: null, tickFormat: () => "" };
  const label = `Magnetisation (${readableUnit(data.magnetisationUnit)})`;
  return renderPlot(
    {
      ...margins,
      width,
      height: 320,
      marginTop: 16,
      marginBottom: 14,
      x,
      y: { label, ...yLabel, grid: true, ticks: 6 },
      marks: [
        Plot.ruleY([0], { stroke: palette.rule }),
        // A path sorted by nothing: a loop keeps its two branches.
        Plot.line(line, { x: "field_mT", y: "value", stroke: palette.model, strokeWidth: 2 }),
        ...errorBars(data, points, Plot),
        Plot.dot(points, {
          x: "field_mT",
          y: "value",
          r: 3,
          stroke: palette.data,
          fill: palette.paper,
          strokeWidth: 1.5,
        }),
        ...legend(data, points, { Plot, line }),
      ],
    },
    canvas,
  );
}

/** A link is the mark that draws a plain segment on a logarithmic axis. */
function errorBars({ sigma }: CurveFitFigureData, points: readonly Point[], Plot: Canvas["Plot"]) {
  if (sigma === undefined) return [];
  return [
    Plot.link(points, {
      x: "field_mT",
      y1: "low",
      y2: "high",
      stroke: palette.data,
      strokeOpacity: 0.8,
      strokeWidth: 1.2,
    }),
  ];
}

/** Words beside what they name, in its colour and with its sign: no separate key to look up. */
function legend(
  { sigma, basis }: CurveFitFigureData,
  points: readonly Point[],
  { Plot, line }: { Plot: Canvas["Plot"]; line: readonly { field_mT: number; value: number }[] },
) {
  const ofLine = extent(line, ({ value }) => value, nothing);
  const [, top] = extent(points, ({ high }) => high, ofLine);
  const [lowest] = extent(points, ({ low }) => low, ofLine);
  const bottom = Math.min(0, lowest);
  const [left] = extent(points, ({ field_mT }) => field_mT, nothing);
  const rows = [
    { words: `\u25cb  measured${sigma === undefined ? "" : " \u00b1 1 sd of the file"}`, fill: palette.data },
    { words: "\u2501\u2501  fit", fill: palette.model },
    { words: basis, fill: palette.quiet },
  ];
  return rows.map(({ words, fill }, i) =>
    Plot.text([words], {
      x: () => left,
      y: () => top - (i * (top - bottom)) / 14,
      textAnchor: "start",
      fill,
      stroke: palette.paper,
      strokeWidth: 4,
    }),
  );
}

function residualPanel(
  data: CurveFitFigureData,
  points: readonly Point[],
  { width, canvas }: { width: number; canvas: Canvas },
) {
  const { Plot } = canvas;
  const [, reach] = extent(points, ({ residual }) => Math.abs(residual), [0, data.sigma === undefined ? 0 : 1.1]);
  const x = { ...fieldAxis(points.map(({ field_mT }) => field_mT)), label: "Applied field \u00b50H (mT)" };
  const label = data.sigma === undefined ? `Residual (${readableUnit(data.magnetisationUnit)})` : "Residual / sd";
  return renderPlot(
    {
      ...margins,
      width,
      height: 180,
      marginTop: 10,
      marginBottom: 46,
      x: { ...x, tickFormat: fieldTick, labelArrow: "none", labelAnchor: "center", labelOffset: 38 },
      y: { label, ...yLabel, domain: [-1.15 * reach, 1.15 * reach], ticks: 4 },
      marks: [
        ...(data.sigma === undefined ? [] : [Plot.ruleY([-1, 1], { stroke: palette.rule, strokeDasharray: "4 3" })]),
        Plot.ruleY([0], { stroke: palette.quiet }),
        Plot.link(points, { x: "field_mT", y1: () => 0, y2: "residual", stroke: palette.data, strokeOpacity: 0.6 }),
        Plot.dot(points, { x: "field_mT", y: "residual", r: 2.8, fill: palette.data }),
      ],
    },
    canvas,
  );
}

/** The numbers behind the picture. */
function columnsOf(data: CurveFitFigureData, points: readonly Point[]): Figure["data"] {
  const { field_T, magnetisation, sigma, fitted, magnetisationUnit: unit } = data;
  return [
    { name: "field", unit: "T", values: field_T },
    { name: "magnetisation", unit, values: magnetisation },
    ...(sigma === undefined ? [] : [{ name: "sigma", unit, values: sigma }]),
    { name: "fitted", unit, values: fitted },
    { name: "residual", unit: sigma === undefined ? unit : "1", values: points.map(({ residual }) => residual) },
  ];
}

/**
 * A measured magnetisation curve with its error bars and the fitted model over the logarithm of the field, and below it
 * the residuals in standard deviations: structure there is what a good-looking fit hides.
 */
export async function curveFitFigure(
  data: CurveFitFigureData,
  { width = 720, document }: CurveFitFigureOptions = {},
): Promise<Figure> {
  const points = pointsOf(data);
  const canvas = await openCanvas(document);
  const { shown, words } = thinned(points);
  const panels = [curvePanel(data, shown, { width, canvas }), residualPanel(data, shown, { width, canvas })];
  const description = `${points.length} measured values with a fitted curve; below, the residuals over the applied field.`;
  const also = (text: string | undefined) => [text, words].filter(Boolean).join("; ");
  const svg = toSvg(panels, {
    title: data.title,
    subtitle: also(data.subtitle) || undefined,
    description: also(description),
  });
  return { svg, data: columnsOf(data, points) };
}
