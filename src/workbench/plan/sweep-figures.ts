import {
  type Figure,
  figureCsv,
  type SweepAxis,
  type TradeOffPanel,
  tradeOffFigure,
  tradeOffLinesFigure,
} from "../../figures/index.js";
import type { SweepResult, SweptCase } from "./run-sweep.js";
import type { SweepColumnName } from "./sweep-columns.js";

/** Axes in the order of a sweep's shape; units for people. */
const axes = [
  { column: "gradient", key: "gradient_T_per_m", name: "Gradient", unit: "T/m", factor: 1 },
  { column: "drive_amplitude", key: "driveAmplitude_T", name: "Drive amplitude (peak)", unit: "mT", factor: 1e3 },
  { column: "frequency", key: "frequency_Hz", name: "Drive frequency", unit: "kHz", factor: 1e-3 },
  { column: "bore_diameter", key: "boreDiameter_m", name: "Bore diameter", unit: "mm", factor: 1e3 },
] as const;

const shown: readonly { column: SweepColumnName; name: string; unit: string; factor: number }[] = [
  { column: "static_width", name: "Static width along the drive", unit: "mm", factor: 1e3 },
  { column: "patch", name: "Patch", unit: "mm", factor: 1e3 },
  { column: "detection_noise", name: "Detection limit, noise (Fe)", unit: "ng", factor: 1e12 },
  { column: "heat", name: "Heat of selection and drive", unit: "kW", factor: 1e-3 },
  { column: "drive_apparent_power", name: "Drive amplifier", unit: "kVA", factor: 1e-3 },
  { column: "stored_energy", name: "Stored energy", unit: "J", factor: 1 },
  { column: "hardware_ratio", name: "Largest need over supply", unit: "1", factor: 1 },
  { column: "stimulation_high", name: "Drive over the strictest stimulation threshold", unit: "1", factor: 1 },
];

/** Figures of a sweep as files: two axes as maps for each case, one axis as lines with all cases side by side. */
export async function sweepFigures(result: SweepResult): Promise<Record<string, string>> {
  const varied = [0, 1, 2, 3].filter((axis) => result.shape[axis] > 1);
  const files: Record<string, string> = {};
  const keep = (name: string, figure: Figure) => {
    files[`${name}.svg`] = figure.svg;
    files[`${name}.csv`] = figureCsv(figure);
  };
  if (varied.length === 0) return files;
  // The lines run over the first axis that is varied, at the middle of the others.
  const lines = await linesFigure(result, varied[0]);
  if (lines !== undefined) keep("trade-off-lines", lines);
  if (varied.length < 2) return files;
  for (const [i, swept] of result.cases.entries())
    keep(`trade-off-${i + 1}`, await mapsFigure(result, swept, [varied[0], varied[1]]));
  return files;
}

/** Positions of the points along one axis, all others at their middle value. */
function along({ shape }: SweepResult, axis: number): number[] {
  const middle = shape.map((count) => Math.floor((count - 1) / 2));
  return Array.from({ length: shape[axis] }, (_, i) =>
    indexOf(
      shape,
      middle.map((at, k) => (k === axis ? i : at)),
    ),
  );
}

function indexOf(shape: SweepResult["shape"], at: readonly number[]): number {
  return at.reduce((index, i, axis) => index * shape[axis] + i, 0);
}

function sweepAxis({ cases }: SweepResult, axis: number, points: readonly number[]): SweepAxis {
  const { column, name, unit, factor } = axes[axis];
  const values = Float64Array.from(points, (i) => cases[0].table[column][i] * factor);
  const [a, b, c] = [values[0], values[1], values.at(-1) ?? values[1]];
  const isRatio = values.length > 2 && Math.abs(Math.log(b / a) * (values.length - 1) - Math.log(c / a)) < 1e-6;
  return { name, unit, values, scale: isRatio ? "log" : "linear" };
}

async function linesFigure(result: SweepResult, axis: number): Promise<Figure | undefined> {
  const points = along(result, axis);
  const { cases } = result;
  if (cases.length > 5) return undefined;
  const panels = shown.flatMap(({ column, name, unit, factor }) => {
    const lines = cases.map(({ table }) => {
      const take = (from: SweepColumnName) => Float64Array.from(points, (i) => table[from][i] * factor);
      const values = take(column);
      return column === "stimulation_high" ? { values, low: take("stimulation_low"), high: values } : { values };
    });
    return lines.some(({ values }) => values.some((value) => value > 0))
      ? [{ name, unit, scale: "log" as const, lines }]
      : [];
  });
  return tradeOffLinesFigure({
    title: result.sweep.name,
    subtitle: othersText(result, axis),
    x: sweepAxis(result, axis, points),
    series: cases.map(({ name }) => name),
    panels,
    bands: "from the most lenient to the strictest source",
  });
}

async function mapsFigure(result: SweepResult, swept: SweptCase, [x, y]: readonly [number, number]): Promise<Figure> {
  const { shape } = result;
  const middle = shape.map((count) => Math.floor((count - 1) / 2));
  const places = Array.from({ length: shape[y] }, (_, j) =>
    Array.from({ length: shape[x] }, (_, i) =>
      indexOf(
        shape,
        middle.map((at, k) => (k === x ? i : k === y ? j : at)),
      ),
    ),
  ).flat();
  const panels: TradeOffPanel[] = shown.flatMap(({ column, name, unit, factor }) => {
    const values = Float64Array.from(places, (i) => swept.table[column][i] * factor);
    return values.some((value) => value > 0) ? [{ name, unit, values, scale: "log" as const }] : [];
  });
  return tradeOffFigure({
    title: `${result.sweep.name}: ${swept.name}`,
    subtitle: `${swept.scanner}; part "${swept.subject}" in the bore; ${othersText({ ...result, cases: [swept] }, x, y)}`,
    x: sweepAxis(result, x, along(result, x)),
    y: sweepAxis(result, y, along(result, y)),
    panels,
    binding: [
      {
        class: swept.subjectClass,
        names: swept.firstNames,
        index: Int8Array.from(places, (i) => swept.first[i]),
        verdict: Int8Array.from(places, (i) => swept.verdict[i]),
      },
    ],
  });
}

/** The axes that a figure holds still, and where. */
function othersText(result: SweepResult, ...drawn: number[]): string {
  const middle = along(result, drawn[0])[0];
  const texts = axes.flatMap(({ column, name, unit, factor }, axis) => {
    if (drawn.includes(axis)) return [];
    const values = result.cases.map(({ table }) => Number((table[column][middle] * factor).toPrecision(3)));
    return [`${name.toLowerCase()} ${[...new Set(values)].join(" / ")} ${unit}`];
  });
  return texts.join(", ");
}
