import { FerruleError } from "../errors.js";
import { unitForDisplay } from "../units/index.js";
import { checkLengths } from "./check-lengths.js";
import type { Figure } from "./figure.js";
import type { FigureDocument } from "./figure-document.js";
import { centred, headedSvg, type KeyEntry, keyPanel, openMark, type PanelSize } from "./key-panel.js";
import { logDomain, logTicks, powerTick } from "./log-axis.js";
import { palette } from "./palette.js";
import { openCanvas, renderPlot, type SvgPanel } from "./render.js";

/** Harmonics of a moment and a model of them. Arrays of one length, [n]. */
export interface SpectrumFitFigureData {
  readonly title: string;
  readonly subtitle?: string;
  /** Number of each harmonic, from 1. */
  readonly harmonic: Int32Array;
  /** Amplitudes, in `unit`. */
  readonly measured: Float64Array;
  /** Of the amplitude; with phases of each of the real and the imaginary part, so that a phase has sigma / amplitude. */
  readonly sigma?: Float64Array | undefined;
  /** Amplitudes of the model. */
  readonly fitted: Float64Array;
  /** Both or neither. */
  readonly measuredPhase_rad?: Float64Array | undefined;
  readonly fittedPhase_rad?: Float64Array | undefined;
  /** "A.m2", "A.m2/kg", or "1" for arbitrary units; `basis` says what it is divided by. */
  readonly unit: string;
  readonly basis: string;
}

interface Row {
  readonly harmonic: number;
  readonly measured: number;
  readonly sigma: number;
  readonly fitted: number;
  /** In standard deviations, or in % of the measured amplitude. */
  readonly residual: number;
  /** Degrees, cut where no phase is; the fitted one within half a turn of the measured one. */
  readonly phase: number;
  readonly fittedPhase: number;
  readonly phaseSigma: number;
}

/** Degrees from -180 up to 180. */
const wrapped = (degrees: number): number => degrees - 360 * Math.ceil((degrees - 180) / 360);

/** The middle of the widest gap between phases, in degrees: from there on a full turn holds them all unbroken. */
function cutOf(phases: readonly number[]): number {
  const sorted = phases
    .filter(Number.isFinite)
    .map(wrapped)
    .sort((a, b) => a - b);
  let [cut, widest] = [-180, 0];
  sorted.forEach((phase, i) => {
    const next = i + 1 < sorted.length ? sorted[i + 1] : sorted[0] + 360;
    if (next - phase > widest + 1e-9) [cut, widest] = [(phase + next) / 2, next - phase];
  });
  // Of the turns that start there, the one whose phases lie nearest to 0.
  return wrapped(cut + 180) - 180;
}

function rowsOf(data: SpectrumFitFigureData): Row[] {
  const { harmonic, measured, sigma, fitted, measuredPhase_rad, fittedPhase_rad } = data;
  const degrees = (values: Float64Array | undefined, i: number) => ((values?.[i] ?? Number.NaN) * 180) / Math.PI;
  const cut = cutOf([...(measuredPhase_rad ?? []), ...(fittedPhase_rad ?? [])].map((phase) => (phase * 180) / Math.PI));
  return Array.from(harmonic, (k, i) => {
    const s = sigma?.[i] ?? Number.NaN;
    const phase = cut + 180 + wrapped(degrees(measuredPhase_rad, i) - cut - 180);
    const difference = measured[i] - fitted[i];
    return {
      harmonic: k,
      measured: measured[i],
      sigma: s,
      fitted: fitted[i],
      residual: sigma === undefined ? (100 * difference) / measured[i] : difference / s,
      phase,
      fittedPhase: phase + wrapped(degrees(fittedPhase_rad, i) - phase),
      phaseSigma: ((s / measured[i]) * 180) / Math.PI,
    };
  }).sort((a, b) => a.harmonic - b.harmonic);
}

function checked(data: SpectrumFitFigureData): void {
  const { harmonic, measured, sigma, fitted, measuredPhase_rad, fittedPhase_rad } = data;
  checkLengths({ measured, sigma, fitted, measuredPhase_rad, fittedPhase_rad }, harmonic.length, "one per harmonic");
  if ((measuredPhase_rad === undefined) !== (fittedPhase_rad === undefined)) {
    const path = measuredPhase_rad === undefined ? "measuredPhase_rad" : "fittedPhase_rad";
    throw new FerruleError("ShapeMismatch", {
      path,
      found: "phases of one side only",
      accepted: "phases of both the measured and the fitted harmonics, or of neither",
    });
  }
  if (measured.some((value) => value > 0 && Number.isFinite(value))) return;
  throw new FerruleError("InvalidValue", {
    path: "measured",
    found: measured.length === 0 ? "no harmonic" : "no amplitude above 0",
    accepted: "amplitudes of which at least one is above 0: the axis is logarithmic",
  });
}

interface Frame extends PanelSize {
  readonly marginLeft: number;
  readonly marginRight: number;
}

const outline = ({ width, marginLeft, marginRight }: Frame) => ({ width, marginLeft, marginRight });
const yLabel = ({ marginLeft }: Frame) => ({ ...centred, labelOffset: marginLeft - 14 });

/** Wide enough for the longest number on the axis of amplitudes and the axis's title beside it. */
function frameFor({ domain }: Amplitudes, size: PanelSize): Frame {
  const longest = Math.max(...logTicks(domain).map((tick) => powerTick(tick).length));
  return { ...size, marginLeft: Math.max(72, 40 + 7.6 * longest), marginRight: 24 };
}

/** Every harmonic has its tick until they would touch. */
function harmonicAxis(rows: readonly Row[], { width, marginLeft, marginRight }: Frame, isLast: boolean) {
  const [first, last] = [rows[0].harmonic, rows[rows.length - 1].harmonic];
  const domain = [first - 0.6, last + 0.6];
  const unit_px = (width - marginLeft - marginRight) / (domain[1] - domain[0]);
  const ticks: number[] = [];
  for (const { harmonic } of rows) {
    const previous = ticks.at(-1);
    if (previous === undefined || (harmonic - previous) * unit_px >= 28) ticks.push(harmonic);
  }
  const shared = { domain, ticks } as const;
  if (!isLast) return { ...shared, label: null, tickFormat: () => "" };
  return { ...shared, tickFormat: String, label: "Harmonic of the drive", ...centred, labelOffset: 38 };
}

/** Lines run through harmonics of one kind: odd ones, and even ones where there is a bias field. */
const kind = ({ harmonic }: Row): number => harmonic % 2;
const cross = { symbol: "times", r: 4, stroke: palette.model, strokeWidth: 1.8 } as const;
const thin = { stroke: palette.model, strokeWidth: 1, strokeOpacity: 0.5, z: kind } as const;
const barLook = { stroke: palette.data, strokeOpacity: 0.8, strokeWidth: 1.2 } as const;
const circle = { symbol: "circle", stroke: palette.data, ...openMark } as const;

/** What a logarithmic axis can show: a model far below the smallest measured amplitude, or at 0, is left out. */
function amplitudesOf(rows: readonly Row[]) {
  const measured = rows.filter((row) => row.measured > 0 && Number.isFinite(row.measured));
  const floor = measured.reduce((least, row) => Math.min(least, row.measured), Number.POSITIVE_INFINITY) / 100;
  const fitted = rows.filter((row) => row.fitted >= floor && Number.isFinite(row.fitted));
  const barred = measured.filter(({ sigma }) => sigma > 0 && Number.isFinite(sigma));
  const heights = [
    ...measured.map((row) => row.measured),
    ...barred.map((row) => row.measured + row.sigma),
    ...fitted.map((row) => row.fitted),
  ];
  const domain = logDomain(heights, 0.05);
  // A bar that reaches 0 or below has no lower end here.
  const bars = barred.map((row) => ({
    harmonic: row.harmonic,
    low: Math.max(domain[0], row.measured - row.sigma),
    high: row.measured + row.sigma,
  }));
  return { measured, fitted, bars, domain };
}

type Amplitudes = ReturnType<typeof amplitudesOf>;

interface Rows {
  readonly rows: readonly Row[];
  readonly unit: string;
}

function amplitudePanel({ rows, unit }: Rows, amplitudes: Amplitudes, frame: Frame): SvgPanel {
  const { measured, fitted, bars, domain } = amplitudes;
  const { Plot } = frame.canvas;
  return renderPlot(
    {
      ...outline(frame),
      height: 280,
      marginTop: 12,
      marginBottom: 14,
      x: harmonicAxis(rows, frame, false),
      y: {
        type: "log",
        domain,
        ticks: logTicks(domain),
        tickFormat: powerTick,
        label: `Amplitude (${unit === "1" ? "arbitrary units" : unitForDisplay(unit)})`,
        ...yLabel(frame),
        grid: true,
      },
      marks: [
        Plot.line(fitted, { x: "harmonic", y: "fitted", ...thin }),
        Plot.link(bars, { x: "harmonic", y1: "low", y2: "high", ...barLook }),
        Plot.dot(measured, { x: "harmonic", y: "measured", ...circle }),
        Plot.dot(fitted, { x: "harmonic", y: "fitted", ...cross }),
      ],
    },
    frame.canvas,
  );
}

function phasePanel({ rows }: Rows, frame: Frame): SvgPanel {
  const { Plot } = frame.canvas;
  const shown = rows.filter(({ phase, measured }) => Number.isFinite(phase) && measured > 0);
  const modelled = shown.filter(({ fittedPhase }) => Number.isFinite(fittedPhase));
  const all = [...shown.map(({ phase }) => phase), ...modelled.map(({ fittedPhase }) => fittedPhase)];
  const low = all.reduce((least, value) => Math.min(least, value), Number.POSITIVE_INFINITY);
  const high = all.reduce((most, value) => Math.max(most, value), Number.NEGATIVE_INFINITY);
  const room = Math.max(5, 0.12 * (high - low));
  const domain = all.length === 0 ? [-180, 180] : [low - room, high + room];
  const within = (value: number) => Math.min(domain[1], Math.max(domain[0], value));
  const bars = shown
    .filter(({ phaseSigma }) => phaseSigma > 0 && Number.isFinite(phaseSigma))
    .map(({ harmonic, phase, phaseSigma }) => {
      const reach = Math.min(phaseSigma, 180);
      return { harmonic, low: within(phase - reach), high: within(phase + reach) };
    });
  const quarters = [-270, -180, -90, 0, 90, 180, 270, 360].filter((q) => q >= domain[0] && q <= domain[1]);
  return renderPlot(
    {
      ...outline(frame),
      height: 170,
      marginTop: 10,
      marginBottom: 14,
      x: harmonicAxis(rows, frame, false),
      y: {
        domain,
        ticks: quarters.length >= 3 ? quarters : 4,
        label: "Phase (\u00b0)",
        ...yLabel(frame),
        grid: true,
      },
      marks: [
        Plot.line(modelled, { x: "harmonic", y: "fittedPhase", ...thin }),
        Plot.link(bars, { x: "harmonic", y1: "low", y2: "high", ...barLook }),
        Plot.dot(shown, { x: "harmonic", y: "phase", ...circle }),
        Plot.dot(modelled, { x: "harmonic", y: "fittedPhase", ...cross }),
      ],
    },
    frame.canvas,
  );
}

function residualPanel({ rows }: Rows, hasSigma: boolean, frame: Frame): SvgPanel {
  const { Plot } = frame.canvas;
  const shown = rows.filter(({ residual }) => Number.isFinite(residual));
  const largest = shown.reduce((most, { residual }) => Math.max(most, Math.abs(residual)), hasSigma ? 1.1 : 0);
  const reach = 1.15 * (largest || 1);
  return renderPlot(
    {
      ...outline(frame),
      height: 180,
      marginTop: 10,
      marginBottom: 46,
      x: harmonicAxis(rows, frame, true),
      y: { domain: [-reach, reach], ticks: 4, label: hasSigma ? "Residual / sd" : "Residual (%)", ...yLabel(frame) },
      marks: [
        ...(hasSigma ? [Plot.ruleY([-1, 1], { stroke: palette.rule, strokeDasharray: "4 3" })] : []),
        Plot.ruleY([0], { stroke: palette.quiet }),
        Plot.link(shown, { x: "harmonic", y1: () => 0, y2: "residual", stroke: palette.data, strokeOpacity: 0.6 }),
        Plot.dot(shown, { x: "harmonic", y: "residual", r: 2.8, fill: palette.data }),
      ],
    },
    frame.canvas,
  );
}

const counted = (words: string, count: number): string => (count === 0 ? "" : `${words}: ${count}`);

function keyOf({ sigma, basis }: SpectrumFitFigureData, rows: readonly Row[], amplitudes: Amplitudes): KeyEntry[] {
  const { measured, fitted, bars, domain } = amplitudes;
  const toZero = bars.filter(({ low }) => low === domain[0]).length;
  return [
    {
      words: `measured${sigma === undefined ? "" : " \u00b1 1 sd"}`,
      colour: palette.data,
      symbol: "circle",
    },
    { words: "fit", colour: palette.model, symbol: "times" },
    ...[
      basis,
      sigma === undefined ? "residuals in % of the measured amplitude" : "",
      counted("measured but not above 0, not drawn", rows.length - measured.length),
      counted("fit below 1 % of the smallest measured, not drawn", rows.length - fitted.length),
      counted("bars cut at the lower edge", toZero),
    ].map((words) => ({ words, colour: palette.quiet })),
  ];
}

/**
 * Amplitudes of harmonics with their error bars on a logarithmic axis and the model's as crosses; below them phases where
 * they are given, and the residuals of the amplitudes: in standard deviations, else in % of what was measured.
 *
 * @throws FerruleError ShapeMismatch, InvalidValue (no amplitude above 0)
 */
export async function spectrumFitFigure(
  data: SpectrumFitFigureData,
  { width = 720, document }: { width?: number; document?: FigureDocument } = {},
): Promise<Figure> {
  checked(data);
  const size = { width, canvas: await openCanvas(document) };
  const rows = rowsOf(data);
  const amplitudes = amplitudesOf(rows);
  const frame = frameFor(amplitudes, size);
  const drawn = { rows, unit: data.unit };
  const hasPhase = data.measuredPhase_rad !== undefined;
  const panels = [
    keyPanel(keyOf(data, rows, amplitudes), size),
    amplitudePanel(drawn, amplitudes, frame),
    ...(hasPhase ? [phasePanel(drawn, frame)] : []),
    residualPanel(drawn, data.sigma !== undefined, frame),
  ];
  const below = hasPhase ? "below, phases and the residuals of the amplitudes" : "below, the residuals";
  const description = `Amplitudes of ${rows.length} harmonics, measured and fitted; ${below}.`;
  return { svg: headedSvg(panels, { ...data, description }, size), data: columnsOf(data) };
}

/** The numbers behind the picture, in the order they came in. */
function columnsOf(data: SpectrumFitFigureData): Figure["data"] {
  const { harmonic, measured, sigma, fitted, measuredPhase_rad, fittedPhase_rad, unit } = data;
  const column = (name: string, of: string, values: ArrayLike<number> | undefined) =>
    values === undefined ? [] : [{ name, unit: of, values }];
  const residual = measured.map((m, i) =>
    sigma === undefined ? (100 * (m - fitted[i])) / m : (m - fitted[i]) / sigma[i],
  );
  return [
    ...column("harmonic", "1", harmonic),
    ...column("measured", unit, measured),
    ...column("sigma", unit, sigma),
    ...column("fitted", unit, fitted),
    ...column("measured_phase", "rad", measuredPhase_rad),
    ...column("fitted_phase", "rad", fittedPhase_rad),
    ...column("residual", sigma === undefined ? "%" : "1", residual),
  ];
}
