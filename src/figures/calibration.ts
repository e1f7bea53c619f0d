import type { CalibrationLine } from "../measure/index.js";
import type { Figure } from "./figure.js";
import type { FigureDocument } from "./figure-document.js";
import { type MassUnit, massUnit, plainNumber } from "./mass-unit.js";
import { palette } from "./palette.js";
import { type Canvas, openCanvas, renderPlot, toSvg } from "./render.js";

export interface CalibrationFigureData {
  readonly title: string;
  readonly subtitle?: string;
  readonly line: CalibrationLine;
}

interface Vial {
  readonly iron: number;
  readonly ironLow: number;
  readonly ironHigh: number;
  readonly reading: number;
  readonly low: number;
  readonly high: number;
  readonly residual: number;
}

const yLabel = { labelArrow: "none", labelAnchor: "center", labelOffset: 52 } as const;
const xLabel = { labelArrow: "none", labelAnchor: "center", labelOffset: 36 } as const;
const margins = { marginLeft: 66, marginRight: 24 };

function vialsOf({ points, normalisedResiduals }: CalibrationLine, { perKg }: MassUnit): Vial[] {
  return points.map(({ iron_kg, ironUncertainty_kg, reading_kg, readingUncertainty_kg }, i) => ({
    iron: iron_kg * perKg,
    ironLow: (iron_kg - ironUncertainty_kg) * perKg,
    ironHigh: (iron_kg + ironUncertainty_kg) * perKg,
    reading: reading_kg * perKg,
    low: (reading_kg - readingUncertainty_kg) * perKg,
    high: (reading_kg + readingUncertainty_kg) * perKg,
    residual: normalisedResiduals[i],
  }));
}

interface PanelOptions {
  readonly width: number;
  readonly unit: MassUnit;
  readonly canvas: Canvas;
}

const domainOf = (vials: readonly Vial[]): [number, number] => [
  0,
  Math.max(...vials.map(({ ironHigh }) => ironHigh)) * 1.05,
];

function linePanel(line: CalibrationLine, vials: readonly Vial[], { width, unit, canvas }: PanelOptions) {
  const { Plot } = canvas;
  const [from, to] = domainOf(vials);
  const ends = [from, to].map((x) => ({ x, y: line.intercept_kg * unit.perKg + line.slope * x }));
  return renderPlot(
    {
      ...margins,
      width,
      height: 320,
      marginTop: 16,
      marginBottom: 14,
      x: { domain: [from, to], label: null, tickFormat: () => "" },
      y: {
        label: `Reading of the map (${unit.label})`,
        ...yLabel,
        grid: true,
        ticks: 6,
        nice: true,
        tickFormat: (v: number) => plainNumber(v),
      },
      marks: [
        Plot.ruleY([0], { stroke: palette.rule }),
        Plot.line(ends, { x: "x", y: "y", stroke: palette.model, strokeWidth: 2 }),
        Plot.link(vials, { x1: "ironLow", x2: "ironHigh", y: "reading", stroke: palette.data }),
        Plot.link(vials, { x: "iron", y1: "low", y2: "high", stroke: palette.data }),
        Plot.dot(vials, { x: "iron", y: "reading", r: 4, stroke: palette.data, fill: palette.paper, strokeWidth: 1.6 }),
        ...legend(line, unit, Plot),
      ],
    },
    canvas,
  );
}

/** What each sign is, and the line in numbers. */
function legend(line: CalibrationLine, unit: MassUnit, Plot: Canvas["Plot"]) {
  const intercept = `${plainNumber(line.intercept_kg * unit.perKg)} ${unit.label}`;
  const rows = [
    { words: "\u25cb  vial \u00b1 1 sd, both ways", fill: palette.data },
    { words: `\u2501\u2501  reading = ${intercept} + ${plainNumber(line.slope, 4)} \u00d7 iron`, fill: palette.model },
  ];
  return rows.map(({ words, fill }, i) =>
    Plot.text([words], {
      frameAnchor: "top-left",
      dx: 12,
      dy: 4 + 19 * i,
      fill,
      stroke: palette.paper,
      strokeWidth: 5,
    }),
  );
}

function residualPanel(vials: readonly Vial[], { width, unit, canvas }: PanelOptions) {
  const { Plot } = canvas;
  const reach = Math.max(2.4, ...vials.map(({ residual }) => Math.abs(residual) * 1.15));
  return renderPlot(
    {
      ...margins,
      width,
      height: 180,
      marginTop: 10,
      marginBottom: 44,
      x: {
        domain: domainOf(vials),
        label: `Known iron (${unit.label})`,
        ...xLabel,
        tickFormat: (v: number) => plainNumber(v),
      },
      y: {
        label: "Residual / sd",
        ...yLabel,
        domain: [-reach, reach],
        ticks: 5,
        tickFormat: (v: number) => plainNumber(v),
      },
      marks: [
        Plot.ruleY([-2, 2], { stroke: palette.rule, strokeDasharray: "4 3" }),
        Plot.ruleY([0], { stroke: palette.quiet }),
        Plot.link(vials, { x: "iron", y1: () => 0, y2: "residual", stroke: palette.data }),
        Plot.dot(vials, { x: "iron", y: "residual", r: 4, fill: palette.data }),
        Plot.text(vials, {
          x: "iron",
          y: "residual",
          text: (_: Vial, i: number) => String(i + 1),
          dx: 10,
          fill: palette.ink,
          stroke: palette.paper,
          strokeWidth: 3,
        }),
      ],
    },
    canvas,
  );
}

/** Readings over known iron with the line; below, what each vial is off in standard deviations: R² can't hide it there. */
export async function calibrationFigure(
  { title, subtitle, line }: CalibrationFigureData,
  { width = 720, document }: { width?: number; document?: FigureDocument } = {},
): Promise<Figure> {
  const unit = massUnit(line.points.map(({ iron_kg }) => iron_kg));
  const vials = vialsOf(line, unit);
  const options = { width, unit, canvas: await openCanvas(document) };
  const description = `${vials.length} calibration vials with the fitted line; below, their residuals in standard deviations.`;
  const svg = toSvg([linePanel(line, vials, options), residualPanel(vials, options)], { title, subtitle, description });
  const { points } = line;
  return {
    svg,
    data: [
      { name: "iron", unit: "kg", values: points.map(({ iron_kg }) => iron_kg) },
      { name: "iron_uncertainty", unit: "kg", values: points.map(({ ironUncertainty_kg: u }) => u) },
      { name: "reading", unit: "kg", values: points.map(({ reading_kg }) => reading_kg) },
      { name: "reading_uncertainty", unit: "kg", values: points.map(({ readingUncertainty_kg: u }) => u) },
      { name: "residual", unit: "1", values: line.normalisedResiduals },
    ],
  };
}
