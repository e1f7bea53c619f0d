import type { BudgetLine, IronMassAnswer } from "../measure/index.js";
import type { Figure } from "./figure.js";
import type { FigureDocument } from "./figure-document.js";
import { massUnit, plainNumber } from "./mass-unit.js";
import { palette } from "./palette.js";
import { groundOf, shortened } from "./panel-layout.js";
import { type Canvas, openCanvas, renderPlot, toSvg } from "./render.js";

export interface BudgetFigureData {
  readonly title: string;
  readonly subtitle?: string;
  readonly answers: readonly IronMassAnswer[];
}

const massText = (mass_kg: number): string => {
  const { perKg, label } = massUnit([mass_kg]);
  return `${plainNumber(mass_kg * perKg, 2)} ${label.replace(" Fe", "")}`;
};

const labelWidth = 124;
const perRow = 3;

interface Bar {
  readonly name: string;
  readonly share: number;
  readonly text: string;
  readonly isLargest: boolean;
}

function barsOf({ budget, standardUncertainty_kg }: IronMassAnswer): Bar[] {
  const known = budget.filter(({ standardUncertainty: u }) => Number.isFinite(u));
  const largest = Math.max(...known.map(({ standardUncertainty: u }) => u));
  // The whole may be unknown while its parts are not: then the largest part is the measure.
  const whole =
    Number.isFinite(standardUncertainty_kg) && standardUncertainty_kg > 0 ? standardUncertainty_kg : largest;
  return known.map(({ name, standardUncertainty: u }) => ({
    name,
    share: whole > 0 ? u / whole : 0,
    text: massText(u),
    isLargest: u === largest && u > 0,
  }));
}

function panelOf(
  answer: IronMassAnswer,
  number: number,
  how: { names: readonly string[]; room: number; isFirst: boolean; canvas: Canvas },
) {
  const { names, room, isFirst, canvas } = how;
  const { Plot } = canvas;
  const bars = barsOf(answer);
  const y = { type: "band" as const, domain: names, label: null, tickSize: 0, padding: 0.3 };
  const head = shortened(`${number} ${answer.region}`, Math.floor(room / 8));
  return renderPlot(
    {
      width: room + (isFirst ? labelWidth - 8 : 0),
      height: 76 + 20 * names.length,
      marginLeft: isFirst ? labelWidth : 8,
      marginRight: 14,
      marginTop: 42,
      marginBottom: 34,
      x: { domain: [0, 1.32], ticks: [0, 0.5, 1], label: null, grid: true, tickFormat: (v: number) => plainNumber(v) },
      y: isFirst ? y : { ...y, axis: null },
      marks: [
        Plot.barX(bars, {
          x: "share",
          y: "name",
          fill: ({ isLargest }: Bar) => (isLargest ? palette.model : palette.data),
        }),
        Plot.text(bars, {
          x: "share",
          y: "name",
          text: "text",
          textAnchor: "start",
          dx: 4,
          fill: palette.ink,
          stroke: palette.paper,
          strokeWidth: 3,
          fontSize: 12,
        }),
        Plot.ruleX([0], { stroke: palette.quiet }),
        Plot.text([head], { frameAnchor: "top-left", dy: -34, fontWeight: "bold", fill: palette.ink }),
        Plot.text([combined(answer)], { frameAnchor: "top-left", dy: -17, fill: palette.quiet }),
      ],
    },
    canvas,
  );
}

const combined = ({ standardUncertainty_kg: u }: IronMassAnswer): string =>
  Number.isFinite(u) ? `combined ${massText(u)} Fe` : "combined: not known";

/** Per region, every contribution to the standard uncertainty as a part of the whole, with its mass; the largest stands out. */
export async function budgetFigure(
  { title, subtitle, answers }: BudgetFigureData,
  { width = 720, document }: { width?: number; document?: FigureDocument } = {},
): Promise<Figure> {
  const canvas = await openCanvas(document);
  const names = [...new Set(answers.flatMap(({ budget }) => budget.map(({ name }) => name)))];
  const room = (width - labelWidth) / perRow;
  const height = 76 + 20 * names.length;
  const children = answers.map((answer, i) => {
    const column = i % perRow;
    const panel = panelOf(answer, i + 1, { names, room, isFirst: column === 0, canvas });
    return { panel, x: column === 0 ? 0 : labelWidth - 8 + column * room, y: Math.floor(i / perRow) * height };
  });
  const description = answers
    .map((answer) => `${answer.region}: largest ${largestTerm(answer)?.name ?? "none"}`)
    .join("; ");
  const note = subtitle ?? "Bars: contribution / combined standard uncertainty. Their squares add up to 1.";
  return {
    svg: toSvg([groundOf(children, { width })], { title, subtitle: note, description }),
    data: columnsOf(answers),
  };
}

/** The contribution that an improvement should start with. */
export function largestTerm({ budget }: Pick<IronMassAnswer, "budget">): BudgetLine | undefined {
  const known = budget.filter(({ standardUncertainty: u }) => Number.isFinite(u) && u > 0);
  return known.reduce<BudgetLine | undefined>(
    (most, line) => (most !== undefined && most.standardUncertainty >= line.standardUncertainty ? most : line),
    undefined,
  );
}

function columnsOf(answers: readonly IronMassAnswer[]): Figure["data"] {
  const lines = answers.flatMap(({ budget, standardUncertainty_kg }, i) =>
    budget.map((line, j) => ({ i, j, line, whole: standardUncertainty_kg })),
  );
  return [
    { name: "region_number", unit: "1", values: lines.map(({ i }) => i + 1) },
    { name: "contribution_number", unit: "1", values: lines.map(({ j }) => j + 1) },
    { name: "standard_uncertainty", unit: "kg", values: lines.map(({ line }) => line.standardUncertainty) },
    { name: "combined_standard_uncertainty", unit: "kg", values: lines.map(({ whole }) => whole) },
  ];
}
