import type { IronMassAnswer } from "../measure/index.js";
import type { Figure } from "./figure.js";
import type { FigureDocument } from "./figure-document.js";
import { type MassUnit, massUnit, plainNumber } from "./mass-unit.js";
import { palette } from "./palette.js";
import { flowText, shortened, textPanel } from "./panel-layout.js";
import { type Canvas, openCanvas, renderPlot, toSvg } from "./render.js";

export interface MassesFigureData {
  readonly title: string;
  readonly subtitle?: string;
  readonly answers: readonly IronMassAnswer[];
  /** Of invented studies only. */
  readonly truth?: readonly { readonly region: string; readonly iron_kg: number }[];
}

interface Row {
  readonly row: string;
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly preciseLow: number;
  readonly preciseHigh: number;
  readonly critical: number;
  readonly limit: number;
  readonly truth: number | undefined;
}

/** Rows are told apart by their number; names may repeat or be long. */
function rowsOf({ answers, truth }: MassesFigureData, { perKg }: MassUnit): Row[] {
  return answers.map((answer, i) => {
    const known = truth?.find(({ region }) => region === answer.region)?.iron_kg;
    return {
      row: `${i + 1} ${shortened(answer.region, 24)}`,
      value: answer.value_kg * perKg,
      low: answer.interval95_kg[0] * perKg,
      high: answer.interval95_kg[1] * perKg,
      preciseLow: answer.precisionOnly.interval95_kg[0] * perKg,
      preciseHigh: answer.precisionOnly.interval95_kg[1] * perKg,
      critical: answer.criticalLevel_kg * perKg,
      limit: answer.detectionLimit_kg * perKg,
      truth: known === undefined ? undefined : known * perKg,
    };
  });
}

const isNumber = (value: number | undefined): value is number => value !== undefined && Number.isFinite(value);

/** Linear while all critical levels can be seen beside the largest mass, else logarithmic beyond the smallest of them. */
function massAxis(rows: readonly Row[]) {
  const all = rows.flatMap((row) => [row.low, row.high, row.limit, row.value, row.truth ?? 0]).filter(isNumber);
  const [low, high] = [Math.min(0, ...all), Math.max(0, ...all)];
  const levels = rows.map(({ critical }) => critical).filter((level) => isNumber(level) && level > 0);
  const constant = levels.length === 0 ? high : Math.min(...levels);
  if (high <= 25 * constant || !(high > 0))
    return {
      scale: { domain: [low - 0.03 * (high - low), high + 0.05 * (high - low)], ticks: 8 },
      constant: undefined,
    };
  const ticks = logTicks(constant, high * 1.15);
  const negative = logTicks(constant, -low * 1.15).map((tick) => -tick);
  return {
    scale: {
      type: "symlog" as const,
      constant,
      domain: [low * 1.15, high * 1.15],
      ticks: [...negative.reverse(), 0, ...ticks],
    },
    constant,
  };
}

function logTicks(from: number, to: number): number[] {
  if (!(to >= from)) return [];
  const decades = Array.from({ length: 12 }, (_, i) => Math.floor(Math.log10(from)) + i);
  return decades.flatMap((n) => [1, 2, 5].map((digit) => Number(`${digit}e${n}`))).filter((v) => v >= from && v <= to);
}

const key = [
  "\u25cf value",
  "\u2501 thick: 95 % from noise and background alone",
  "\u2500 thin: 95 % from everything in the budget",
  "\u2502 solid tick: critical level (decides)",
  "\u2506 dotted tick: detection limit (plans)",
];

function panelOf(rows: readonly Row[], { width, unit, canvas }: { width: number; unit: MassUnit; canvas: Canvas }) {
  const { Plot } = canvas;
  const { scale, constant } = massAxis(rows);
  const longest = Math.max(8, ...rows.map(({ row }) => row.length));
  const note = constant === undefined ? "" : `, logarithmic beyond \u00b1${plainNumber(constant, 2)}`;
  const judged = rows.filter(({ low, high }) => isNumber(low) && isNumber(high));
  const levels = rows.filter(({ critical }) => isNumber(critical));
  return renderPlot(
    {
      width,
      height: 66 + 46 * rows.length,
      marginLeft: Math.min(210, 22 + 7.4 * longest),
      marginRight: 24,
      marginTop: 10,
      marginBottom: 48,
      x: {
        ...scale,
        grid: true,
        label: `Mass (${unit.label})${note}`,
        labelArrow: "none",
        labelAnchor: "center",
        labelOffset: 38,
        tickFormat: (v: number) => plainNumber(v),
      },
      y: { type: "band", domain: rows.map(({ row }) => row), label: null, tickSize: 0, padding: 0.2 },
      marks: [
        Plot.ruleX([0], { stroke: palette.quiet }),
        Plot.tickX(levels, {
          x: "critical",
          y: "row",
          stroke: palette.model,
          strokeWidth: 2,
          insetTop: 6,
          insetBottom: 6,
        }),
        Plot.tickX(levels, {
          x: "limit",
          y: "row",
          stroke: palette.model,
          strokeWidth: 1.6,
          strokeDasharray: "3 3",
          insetTop: 6,
          insetBottom: 6,
        }),
        Plot.link(judged, { x1: "low", x2: "high", y: "row", stroke: palette.data, strokeWidth: 1.8 }),
        ...(["low", "high"] as const).map((end) =>
          Plot.tickX(judged, {
            x: end,
            y: "row",
            stroke: palette.data,
            strokeWidth: 1.8,
            insetTop: 13,
            insetBottom: 13,
          }),
        ),
        Plot.link(judged, {
          x1: "preciseLow",
          x2: "preciseHigh",
          y: "row",
          stroke: palette.data,
          strokeWidth: 7,
          strokeOpacity: 0.55,
        }),
        Plot.dot(rows, { x: "value", y: "row", r: 3.4, fill: palette.ink, stroke: palette.paper }),
        Plot.dot(
          rows.filter(({ truth }) => isNumber(truth)),
          {
            x: "truth",
            y: "row",
            dy: -13,
            r: 4.5,
            symbol: "triangle",
            rotate: 180,
            stroke: palette.ink,
            fill: palette.paper,
            strokeWidth: 1.4,
          },
        ),
      ],
    },
    canvas,
  );
}

/** Every region's mass with both intervals, its critical level and its detection limit; what was put in, when invented. */
export async function massesFigure(
  data: MassesFigureData,
  { width = 720, document }: { width?: number; document?: FigureDocument } = {},
): Promise<Figure> {
  const { answers, truth, title, subtitle } = data;
  const unit = massUnit(answers.flatMap(({ value_kg, criticalLevel_kg }) => [value_kg, criticalLevel_kg]));
  const canvas = await openCanvas(document);
  const lines = flowText(
    [...key, ...(truth === undefined ? [] : ["\u25bd put in (known because invented)"])],
    Math.floor(width / 6.6),
    "\u2003",
  );
  const panels = [panelOf(rowsOf(data, unit), { width, unit, canvas }), textPanel(lines, { width })];
  const description = answers.map(({ region, decision }) => `${region}: ${decision}`).join("; ");
  return { svg: toSvg(panels, { title, subtitle, description }), data: columnsOf(data) };
}

function columnsOf({ answers, truth }: MassesFigureData): Figure["data"] {
  const column = (name: string, of: (answer: IronMassAnswer) => number) => ({
    name,
    unit: "kg",
    values: answers.map(of),
  });
  return [
    { name: "row", unit: "1", values: answers.map((_, i) => i + 1) },
    column("mass", ({ value_kg }) => value_kg),
    column("standard_uncertainty", ({ standardUncertainty_kg }) => standardUncertainty_kg),
    column("low95", ({ interval95_kg }) => interval95_kg[0]),
    column("high95", ({ interval95_kg }) => interval95_kg[1]),
    column("precision_only_low95", ({ precisionOnly }) => precisionOnly.interval95_kg[0]),
    column("precision_only_high95", ({ precisionOnly }) => precisionOnly.interval95_kg[1]),
    column("critical_level", ({ criticalLevel_kg }) => criticalLevel_kg),
    column("detection_limit", ({ detectionLimit_kg }) => detectionLimit_kg),
    ...(truth === undefined
      ? []
      : [column("put_in", ({ region }) => truth.find((known) => known.region === region)?.iron_kg ?? Number.NaN)]),
  ];
}
