import { FerruleError } from "../errors.js";
import { unitForDisplay } from "../units/index.js";
import { checkLengths } from "./check-lengths.js";
import { thinned } from "./curve-fit.js";
import type { Figure } from "./figure.js";
import type { FigureDocument } from "./figure-document.js";
import { centred, headedSvg, keyPanel, openMark, type PanelSize } from "./key-panel.js";
import { logDomain, logTicks, tenTo } from "./log-axis.js";
import { palette } from "./palette.js";
import { openCanvas, renderPlot, type SvgPanel } from "./render.js";

/** A complex susceptibility chi = chi' - i chi'' over frequency, and a model of it. */
export interface SusceptibilityFitFigureData {
  readonly title: string;
  readonly subtitle?: string;
  /** Shape [n], all > 0, in any order. */
  readonly frequency_Hz: Float64Array;
  /** chi', shape [n], in `unit`. */
  readonly real: Float64Array;
  /** chi'', shape [n], in `unit`. */
  readonly imaginary: Float64Array;
  readonly sigmaReal?: Float64Array | undefined;
  readonly sigmaImaginary?: Float64Array | undefined;
  /** The model, at frequencies of its own. */
  readonly line: {
    readonly frequency_Hz: Float64Array;
    readonly real: Float64Array;
    readonly imaginary: Float64Array;
  };
  /** "1" for the SI volume susceptibility, "m3/kg", "m3" or "arbitrary"; `basis` says what it is divided by. */
  readonly unit: string;
  readonly basis: string;
}

interface Point {
  readonly frequency_Hz: number;
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** One of the two parts: its sign, colour, mark, measured points and model. */
interface Part {
  readonly sign: string;
  readonly colour: string;
  readonly symbol: "circle" | "square";
  readonly points: readonly Point[];
  readonly hasBars: boolean;
  readonly model: readonly Point[];
}

function pointsOf(frequency_Hz: Float64Array, values: Float64Array, sigma?: Float64Array): Point[] {
  return Array.from(frequency_Hz, (frequency, i) => {
    const s = sigma?.[i] ?? 0;
    const bar = Number.isFinite(s) ? s : 0;
    return { frequency_Hz: frequency, value: values[i], low: values[i] - bar, high: values[i] + bar };
  }).filter(({ value }) => Number.isFinite(value));
}

function partsOf(data: SusceptibilityFitFigureData): Part[] {
  const { frequency_Hz, real, imaginary, sigmaReal, sigmaImaginary, line } = data;
  const inOrder = (values: Float64Array) =>
    pointsOf(line.frequency_Hz, values).sort((a, b) => a.frequency_Hz - b.frequency_Hz);
  return [
    {
      sign: "\u03c7\u2032",
      colour: palette.data,
      symbol: "circle",
      points: pointsOf(frequency_Hz, real, sigmaReal),
      hasBars: sigmaReal !== undefined,
      model: inOrder(line.real),
    },
    {
      sign: "\u03c7\u2033",
      colour: palette.model,
      symbol: "square",
      points: pointsOf(frequency_Hz, imaginary, sigmaImaginary),
      hasBars: sigmaImaginary !== undefined,
      model: inOrder(line.imaginary),
    },
  ];
}

function checked(data: SusceptibilityFitFigureData): void {
  const { frequency_Hz, real, imaginary, sigmaReal, sigmaImaginary, line } = data;
  checkLengths({ real, imaginary, sigmaReal, sigmaImaginary }, frequency_Hz.length, "one for each frequency");
  checkLengths(
    { "line.real": line.real, "line.imaginary": line.imaginary },
    line.frequency_Hz.length,
    "one for each frequency of the line",
  );
  for (const [path, frequencies] of [["frequency_Hz", frequency_Hz] as const, ["line", line.frequency_Hz] as const]) {
    const wrong = frequencies.find((value) => !(value > 0 && Number.isFinite(value)));
    if (wrong === undefined && frequencies.length > 0) continue;
    throw new FerruleError("InvalidValue", {
      path,
      found: wrong === undefined ? "no frequency" : `a frequency of ${wrong} Hz`,
      accepted: "frequencies above 0, such as 1000 Hz: the axis is logarithmic",
    });
  }
}

const height = 360;
const frame = { marginLeft: 72, marginRight: 46, marginTop: 14, marginBottom: 46 };
const plotHeight = height - frame.marginTop - frame.marginBottom;
/** Labels closer than this run into each other. */
const labelGap = 17;

/** The value at which each part's sign is written beside the right end of its line, kept a text line apart. */
function labelPlaces(parts: readonly Part[], [bottom, top]: readonly [number, number]): number[] {
  const [a, b] = parts.map(({ model, points }) => (model.at(-1) ?? points.at(-1))?.value ?? 0);
  const gap = (labelGap * (top - bottom)) / plotHeight;
  if (Math.abs(a - b) >= gap) return [a, b];
  const upper = Math.min(Math.max((a + b + gap) / 2, bottom + 1.4 * gap), top);
  return a >= b ? [upper, upper - gap] : [upper - gap, upper];
}

function panel(data: SusceptibilityFitFigureData, parts: readonly Part[], { width, canvas }: PanelSize): SvgPanel {
  const { Plot } = canvas;
  const every = parts.flatMap(({ points, model }) => [...points, ...model]);
  const { factor, unit } = scaledUnit(data.unit, largestOf(every.map(({ value }) => value)));
  const low = every.reduce((least, point) => Math.min(least, point.low), 0);
  const high = every.reduce((most, point) => Math.max(most, point.high), 0);
  const room = 0.04 * (high - low || 1);
  const domain = [(low < 0 ? low - room : 0) * factor, (high + room) * factor] as const;
  const frequencies = every.map(({ frequency_Hz }) => frequency_Hz);
  const x = logDomain(frequencies, 0.015);
  const places = labelPlaces(parts, [domain[0] / factor, domain[1] / factor]);
  const up = (key: "value" | "low" | "high") => (point: Point) => point[key] * factor;
  return renderPlot(
    {
      ...frame,
      width,
      height,
      x: {
        type: "log",
        domain: x,
        ticks: logTicks(x),
        tickFormat: frequencyTick,
        label: "Frequency",
        ...centred,
        labelOffset: 38,
      },
      y: { domain, label: `Susceptibility${unit}`, ...centred, labelOffset: 58, grid: true, ticks: 6 },
      marks: [
        Plot.ruleY([0], { stroke: palette.rule }),
        ...parts.flatMap(({ sign, colour, symbol, points, hasBars, model }, i) => {
          const { shown } = thinned(points);
          const bar = { y1: up("low"), y2: up("high"), stroke: colour, strokeOpacity: 0.8 };
          return [
            Plot.line(thinned(model).shown, { x: "frequency_Hz", y: up("value"), stroke: colour, strokeWidth: 2 }),
            ...(hasBars ? [Plot.link(shown, { x: "frequency_Hz", ...bar })] : []),
            Plot.dot(shown, {
              x: "frequency_Hz",
              y: up("value"),
              symbol,
              stroke: colour,
              ...openMark,
            }),
            Plot.text([sign], {
              x: () => x[1],
              y: () => places[i] * factor,
              dx: 8,
              textAnchor: "start",
              fill: colour,
              fontSize: 16,
              fontWeight: "bold",
            }),
          ];
        }),
      ],
    },
    canvas,
  );
}

/**
 * In-phase and out-of-phase susceptibility over the logarithm of the frequency, both on one linear axis that holds zero,
 * with the fitted lines; each line is named at its right end.
 *
 * @throws FerruleError ShapeMismatch, InvalidValue (no frequency, or one that is not above 0)
 */
export async function susceptibilityFitFigure(
  data: SusceptibilityFitFigureData,
  { width = 720, document }: { width?: number; document?: FigureDocument } = {},
): Promise<Figure> {
  checked(data);
  const canvas = await openCanvas(document);
  const parts = partsOf(data);
  const bars = parts.map(({ hasBars }) => (hasBars ? "measured \u00b1 1 sd" : "measured"));
  const key = keyPanel(
    [
      ...parts.map(({ sign, symbol, colour }, i) => ({ words: `${sign} ${bars[i]}`, symbol, colour })),
      ...parts.map(({ sign, colour }) => ({ words: `${sign} fit`, colour, line: {} })),
      { words: data.basis, colour: palette.quiet },
      { words: thinned(Array.from(data.frequency_Hz)).words, colour: palette.quiet },
    ],
    { width, canvas },
  );
  const description = `In-phase and out-of-phase susceptibility at ${data.frequency_Hz.length} frequencies with fitted lines.`;
  return {
    svg: headedSvg([key, panel(data, parts, { width, canvas })], { ...data, description }, { width, canvas }),
    data: columnsOf(data),
  };
}

/** One long table: what was measured first, the line after it; cells that do not apply are empty. */
function columnsOf(data: SusceptibilityFitFigureData): Figure["data"] {
  const { frequency_Hz, line, unit } = data;
  const none = Array.from(frequency_Hz, () => Number.NaN);
  const noLine = Array.from(line.frequency_Hz, () => Number.NaN);
  const measured = (name: string, values: Float64Array | undefined) =>
    values === undefined ? [] : [{ name, unit, values: [...values, ...noLine] }];
  return [
    { name: "frequency", unit: "Hz", values: [...frequency_Hz, ...line.frequency_Hz] },
    ...measured("real", data.real),
    ...measured("sigma_real", data.sigmaReal),
    ...measured("imaginary", data.imaginary),
    ...measured("sigma_imaginary", data.sigmaImaginary),
    { name: "fitted_real", unit, values: [...none, ...line.real] },
    { name: "fitted_imaginary", unit, values: [...none, ...line.imaginary] },
  ];
}

const frequencyUnits = ["Hz", "kHz", "MHz", "GHz"];

/** "200 Hz", "5 kHz". */
function frequencyTick(value: number): string {
  const step = Math.min(3, Math.max(0, Math.floor(Math.log10(value) / 3 + 1e-9)));
  return `${Number((value / 1000 ** step).toPrecision(3))} ${frequencyUnits[step]}`;
}

const largestOf = (values: readonly number[]): number =>
  values.reduce((most, value) => Math.max(most, Math.abs(value)), 0);

/** A power of a thousand taken out of the axis, and " (10^-6 m3/kg)" for its label. */
function scaledUnit(unit: string, largest: number): { readonly factor: number; readonly unit: string } {
  const exponent = largest > 0 && (largest < 0.1 || largest >= 1e4) ? 3 * Math.floor(Math.log10(largest) / 3) : 0;
  const power = exponent === 0 ? "" : tenTo(exponent);
  const words = [power, unit === "1" ? "" : unit === "arbitrary" ? "arbitrary units" : unitForDisplay(unit)];
  const inside = words.filter(Boolean).join(" ");
  return { factor: 10 ** -exponent, unit: inside === "" ? "" : ` (${inside})` };
}
