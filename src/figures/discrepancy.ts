import type { DiscrepancyChoice } from "../imaging/index.js";
import type { Figure } from "./figure.js";
import type { FigureDocument } from "./figure-document.js";
import { palette } from "./palette.js";
import { openCanvas, renderPlot, toSvg } from "./render.js";

export interface DiscrepancyFigureData {
  readonly title: string;
  readonly subtitle?: string;
  readonly choice: Pick<DiscrepancyChoice, "relativeWeight" | "target2" | "trials">;
}

const centred = { labelArrow: "none", labelAnchor: "center" } as const;
const signs = "\u2070\u00b9\u00b2\u00b3\u2074\u2075\u2076\u2077\u2078\u2079";

/** Plain digits near 1, else powers of ten with a raised exponent and a short number before it. */
function powerTick(value: number): string {
  if (value >= 1e-3 && value < 1e4) return String(Number(value.toPrecision(2)));
  const exponent = Math.floor(Math.log10(value) + 1e-9);
  const front = Number((value / 10 ** exponent).toPrecision(2));
  const raised = [...String(exponent)].map((c) => (c === "-" ? "\u207b" : signs[Number(c)])).join("");
  return front === 1 ? `10${raised}` : `${front}\u00d710${raised}`;
}

const tenths = Array.from({ length: 45 }, (_, i) => (10 + 2 * i) / 10);
const choices = [[1], [1, 3], [1, 2, 5], [1, 1.5, 2, 3, 4, 5, 6, 8], tenths];

/** Round numbers in a logarithmic range, at least three of them where a range is not as narrow as 20 %. */
function ticksWithin(low: number, high: number): number[] {
  const first = Math.floor(Math.log10(low));
  const decades = Array.from({ length: Math.ceil(Math.log10(high)) - first + 1 }, (_, i) => first + i);
  const within = (digits: number[]) =>
    decades.flatMap((n) => digits.map((d) => Number(`${d}e${n}`))).filter((v) => v >= low && v <= high);
  return choices.map(within).find((ticks) => ticks.length >= 3) ?? [low, high];
}

const voltUnits = [
  { perVolt: 1, label: "V" },
  { perVolt: 1e3, label: "mV" },
  { perVolt: 1e6, label: "\u00b5V" },
  { perVolt: 1e9, label: "nV" },
  { perVolt: 1e12, label: "pV" },
] as const;

/** Residual over the regularisation weight, both logarithmic, with the target and the weight that meets it. */
export async function discrepancyFigure(
  { title, subtitle, choice }: DiscrepancyFigureData,
  { width = 720, document }: { width?: number; document?: FigureDocument } = {},
): Promise<Figure> {
  const canvas = await openCanvas(document);
  const { Plot } = canvas;
  const trials = [...choice.trials].sort((a, b) => a.relativeWeight - b.relativeWeight);
  const largest = Math.sqrt(trials.reduce((most, { residual2 }) => Math.max(most, residual2), choice.target2));
  const unit = voltUnits.find(({ perVolt }) => largest * perVolt >= 1) ?? voltUnits[4];
  // The root of a sum of squares reads as a voltage.
  const rootOf = (squared: number) => Math.sqrt(squared) * unit.perVolt;
  const points = trials.map(({ relativeWeight, residual2 }) => ({
    weight: relativeWeight,
    residual: rootOf(residual2),
  }));
  const target = rootOf(choice.target2);
  const spread = (values: number[], room: number): [number, number] => [
    Math.min(...values) / room,
    Math.max(...values) * room,
  ];
  const x = spread([choice.relativeWeight, ...points.map(({ weight }) => weight)], 1.6);
  const y = spread([target, ...points.map(({ residual }) => residual)], 1.06);
  const halo = { stroke: palette.paper, strokeWidth: 4 };
  const panel = renderPlot(
    {
      width,
      height: 300,
      marginLeft: 66,
      marginRight: 24,
      marginTop: 16,
      marginBottom: 48,
      x: {
        type: "log",
        domain: x,
        ticks: ticksWithin(...x),
        tickFormat: powerTick,
        label: "Regularisation weight, relative to the operator",
        ...centred,
        labelOffset: 40,
      },
      y: {
        type: "log",
        domain: y,
        ticks: ticksWithin(...y),
        tickFormat: powerTick,
        label: `Residual of the pilot (${unit.label})`,
        ...centred,
        labelOffset: 52,
        grid: true,
      },
      marks: [
        Plot.link([target], {
          x1: () => x[0],
          x2: () => x[1],
          y: (t: number) => t,
          stroke: palette.model,
          strokeDasharray: "6 4",
          strokeWidth: 1.6,
        }),
        Plot.link([choice.relativeWeight], {
          x: (w: number) => w,
          y1: () => y[0],
          y2: () => y[1],
          stroke: palette.ink,
          strokeWidth: 1.2,
        }),
        Plot.line(points, { x: "weight", y: "residual", stroke: palette.data, strokeWidth: 1.6 }),
        Plot.dot(points, {
          x: "weight",
          y: "residual",
          r: 4,
          stroke: palette.data,
          fill: palette.paper,
          strokeWidth: 1.6,
        }),
        Plot.text(["target: noise and known model error"], {
          x: () => x[1],
          y: () => target,
          dx: -6,
          dy: -9,
          textAnchor: "end",
          fill: palette.model,
          ...halo,
        }),
        Plot.text([`chosen ${plain(choice.relativeWeight)}`], {
          x: () => choice.relativeWeight,
          y: () => y[1],
          dx: 7,
          dy: 9,
          textAnchor: "start",
          fill: palette.ink,
          ...halo,
        }),
      ],
    },
    canvas,
  );
  const description = `Residual of the pilot scan at ${points.length} weights, the target, and the weight chosen.`;
  return {
    svg: toSvg([panel], { title, subtitle, description }),
    data: [
      { name: "relative_weight", unit: "1", values: trials.map(({ relativeWeight }) => relativeWeight) },
      { name: "residual_squared", unit: "V2", values: trials.map(({ residual2 }) => residual2) },
      { name: "target_squared", unit: "V2", values: trials.map(() => choice.target2) },
    ],
  };
}

const plain = (value: number) => String(Number(value.toPrecision(3)));
