import { FerruleError } from "../errors.js";
import { checkLengths } from "./check-lengths.js";
import type { Figure, FigureColumn } from "./figure.js";
import type { FigureDocument } from "./figure-document.js";
import { centred, headedSvg, type KeyEntry, keyPanel, type PanelSize } from "./key-panel.js";
import { logDomain, logTicks, powerTick } from "./log-axis.js";
import { palette } from "./palette.js";
import { openCanvas, renderPlot, type SvgPanel } from "./render.js";

/** One tracer under one drive. */
export interface PredictedCurves {
  readonly name: string;
  /** Point response against the field: static, and as the drive writes it where it rises and falls; 1/T. */
  readonly staticResponse: ResponseCurve;
  readonly forward?: ResponseCurve;
  readonly backward?: ResponseCurve;
  /** Odd harmonics of the moment per kg Fe. */
  readonly harmonics: readonly { readonly order: number; readonly moment_A_m2_per_kg: number }[];
}

export interface ResponseCurve {
  readonly field_T: Float64Array;
  readonly response_per_T: Float64Array;
}

export interface PredictionFigureData {
  readonly title: string;
  readonly subtitle: string;
  readonly tracers: readonly PredictedCurves[];
}

/** Colours that stay apart for the common kinds of colour vision (as `palette`, from memory). */
const colours = ["#0072b2", "#d55e00", "#009e73", "#cc79a7", "#56b4e9", "#e69f00", "#1a1a1a"];
/** The marks tell tracers apart in grey, and where colours come round again. */
const symbols = ["circle", "square", "triangle", "diamond"] as const;

interface Look {
  readonly colour: string;
  readonly symbol: (typeof symbols)[number];
}

const lookOf = (index: number): Look => ({
  colour: colours[index % colours.length],
  symbol: symbols[index % symbols.length],
});

function checked(tracers: readonly PredictedCurves[]): void {
  if (tracers.length === 0) {
    throw new FerruleError("InvalidValue", { path: "tracers", found: "no tracer", accepted: "one tracer or more" });
  }
  for (const { name, staticResponse, forward, backward } of tracers) {
    for (const [path, curve] of Object.entries({ staticResponse, forward, backward })) {
      if (curve === undefined) continue;
      const place = `${name}.${path}.response_per_T`;
      checkLengths({ [place]: curve.response_per_T }, curve.field_T.length, "one for each field");
    }
  }
}

const sweeps = ["staticResponse", "forward", "backward"] as const;

/** Static dashed, rising thick, falling thin. */
const strokes = {
  staticResponse: { strokeDasharray: "5 4", strokeWidth: 1.2, strokeOpacity: 0.8 },
  forward: { strokeWidth: 2 },
  backward: { strokeWidth: 1 },
} as const;

const margins = { marginLeft: 76, marginRight: 24, marginBottom: 46 };

function curvePoints({ field_T, response_per_T }: ResponseCurve): { field_mT: number; response: number }[] {
  return Array.from(field_T, (field, i) => ({ field_mT: field * 1e3, response: response_per_T[i] }));
}

function responsePanel(tracers: readonly PredictedCurves[], { width, canvas }: PanelSize): SvgPanel {
  const { Plot } = canvas;
  const x = "field_mT";
  const y = "response";
  const lines = tracers.flatMap((tracer, i) =>
    sweeps.flatMap((sweep) => {
      const curve = tracer[sweep];
      if (curve === undefined) return [];
      return [Plot.line(curvePoints(curve), { x, y, stroke: lookOf(i).colour, ...strokes[sweep] })];
    }),
  );
  // The tracer's mark on top of its curve names it without its colour.
  const tops = tracers.map(({ forward, staticResponse }, i) => {
    const points = curvePoints(forward ?? staticResponse).filter(({ response }) => Number.isFinite(response));
    const top = points.toSorted((a, b) => b.response - a.response).slice(0, 1);
    return Plot.dot(top, { x, y, r: 4, symbol: lookOf(i).symbol, fill: lookOf(i).colour });
  });
  return renderPlot(
    {
      ...margins,
      width,
      height: 320,
      marginTop: 14,
      x: { label: "Field of the drive, \u03bc\u2080H (mT)", ...centred, labelOffset: 38 },
      y: { label: "Response, (dM/dt)/(dB/dt) / Ms (1/T)", ...centred, labelOffset: 60, grid: true, zero: true },
      marks: [...lines, ...tops],
    },
    canvas,
  );
}

interface Bar {
  readonly tracer: number;
  readonly order: number;
  readonly moment: number;
}

const barsOf = (tracers: readonly PredictedCurves[]): Bar[] =>
  tracers.flatMap(({ harmonics }, tracer) =>
    harmonics.map(({ order, moment_A_m2_per_kg: moment }) => ({ tracer, order, moment })),
  );

/** Six decades: below them only rounding and numerical noise remain. */
function drawnBars(bars: readonly Bar[]): Bar[] {
  const finite = bars.filter(({ moment }) => moment > 0 && Number.isFinite(moment));
  const largest = finite.reduce((most, { moment }) => Math.max(most, moment), 0);
  return finite.filter(({ moment }) => moment > largest * 1e-6);
}

/** Every k-th of the harmonics that occur, so that their numbers do not touch. */
function orderTicks(bars: readonly Bar[]): number[] {
  const orders = [...new Set(bars.map(({ order }) => order))].sort((a, b) => a - b);
  const every = Math.ceil(orders.length / 18);
  return orders.filter((_, i) => i % every === 0);
}

function spectrumPanel(bars: readonly Bar[], { width, canvas }: PanelSize): SvgPanel {
  const { Plot } = canvas;
  const orders = bars.map(({ order }) => order);
  const domain = logDomain(
    bars.map(({ moment }) => moment),
    0.05,
  );
  return renderPlot(
    {
      ...margins,
      width,
      height: 250,
      marginTop: 8,
      x: {
        domain: [Math.min(...orders) - 0.6, Math.max(...orders) + 0.6],
        label: "Harmonic of the drive",
        ...centred,
        labelOffset: 38,
        ticks: orderTicks(bars),
        tickFormat: "d",
      },
      y: {
        type: "log",
        domain,
        ticks: logTicks(domain),
        tickFormat: powerTick,
        label: "Moment per iron (A\u00b7m\u00b2/kg Fe)",
        ...centred,
        labelOffset: 62,
        grid: true,
      },
      marks: [...new Set(bars.map(({ tracer }) => tracer))].flatMap((index) => {
        const { colour, symbol } = lookOf(index);
        const own = bars.filter(({ tracer }) => tracer === index);
        const place = { x: "order", y: "moment" };
        return [
          Plot.line(own, { ...place, stroke: colour, strokeWidth: 1, strokeOpacity: 0.5 }),
          Plot.dot(own, { ...place, fill: colour, symbol, r: 3.5 }),
        ];
      }),
    },
    canvas,
  );
}

/** Names beside their stroke and mark, then what the strokes mean, of those that occur, and what is not drawn. */
function keyOf(tracers: readonly PredictedCurves[], bars: readonly Bar[], drawn: readonly Bar[]): KeyEntry[] {
  const isDynamic = (tracer: PredictedCurves) => tracer.forward !== undefined || tracer.backward !== undefined;
  const notes = [
    tracers.some(isDynamic)
      ? "dashed: static; thick: field rising; thin: field falling"
      : "static, no relaxation predicted",
    new Set(tracers.map(isDynamic)).size === 2 ? "dashed alone: no relaxation predicted" : "",
    drawn.length === bars.length
      ? ""
      : `below a millionth of the largest harmonic, not drawn: ${bars.length - drawn.length}`,
    tracers.length > colours.length ? "colours come round again: tell tracers apart by their marks" : "",
  ];
  return [
    ...tracers.map(({ name }, i) => ({ words: name, ...lookOf(i), isFilled: true, line: { width: 3 } })),
    ...notes.map((words) => ({ words, colour: palette.quiet })),
  ];
}

/**
 * Point spread functions in field (static dashed, forward solid, backward thin) and below them the odd harmonics on a
 * logarithmic axis. All tracers share one scale: response per saturated moment.
 *
 * @throws FerruleError ShapeMismatch, InvalidValue (no tracer)
 */
export async function predictionFigure(
  { title, subtitle, tracers }: PredictionFigureData,
  { width = 720, document }: { width?: number; document?: FigureDocument } = {},
): Promise<Figure> {
  checked(tracers);
  const size = { width, canvas: await openCanvas(document) };
  const bars = barsOf(tracers);
  const drawn = drawnBars(bars);
  const panels = [
    keyPanel(keyOf(tracers, bars, drawn), size),
    responsePanel(tracers, size),
    ...(drawn.length === 0 ? [] : [spectrumPanel(drawn, size)]),
  ];
  const parts = drawn.length === 0 ? "Point responses" : "Point responses and odd harmonics";
  const description = `${parts} of ${tracers.map(({ name }) => name).join(", ")}.`;
  return { svg: headedSvg(panels, { title, subtitle, description }, size), data: columns(tracers, bars) };
}

/** One long table: curves first, harmonics after them; cells that do not apply are empty. */
function columns(tracers: readonly PredictedCurves[], bars: readonly Bar[]): FigureColumn[] {
  const rows = tracers.flatMap((tracer, t) =>
    sweeps.flatMap((sweep, s) =>
      Array.from(tracer[sweep]?.field_T ?? [], (field, i) => [t + 1, s + 1, field, tracer[sweep]?.response_per_T[i]]),
    ),
  );
  const empty = Number.NaN;
  const table = [
    ...rows.map((row) => [...row, empty, empty]),
    ...bars.map(({ tracer, order, moment }) => [tracer + 1, empty, empty, empty, order, moment]),
  ];
  const heads = [
    ["tracer", tracers.map(({ name }, i) => `${i + 1}: ${name}`).join("; ")],
    ["curve", "1: static; 2: field rising; 3: field falling"],
    ["field", "T"],
    ["response", "1/T"],
    ["harmonic", "1"],
    ["moment_per_iron", "A.m2/kg"],
  ];
  return heads.map(([name, unit], j) => ({ name, unit, values: table.map((row) => row[j] ?? empty) }));
}
