import { FerruleError } from "../errors.js";
import { bindingHeading, bindingNames, bindingPanel, verdictKey } from "./binding-panel.js";
import { checkLengths } from "./check-lengths.js";
import type { Figure, FigureColumn } from "./figure.js";
import type { FigureDocument } from "./figure-document.js";
import { headedSvg, type PanelSize } from "./key-panel.js";
import { limitCaution, verdictWords } from "./limit-words.js";
import { headingLines } from "./panel-heading.js";
import { flowText, groundOf, type PlacedPanel, textPanel } from "./panel-layout.js";
import { openCanvas, type SvgPanel } from "./render.js";
import { checkSweep } from "./sweep-axis.js";
import type { BindingLimits, SweepAxis, TradeOffPanel } from "./sweep-data.js";
import { type SweepFrame, sweepEdges, sweepPanel } from "./sweep-panel.js";

export interface TradeOffFigureData {
  readonly title: string;
  readonly subtitle?: string;
  readonly x: SweepAxis;
  readonly y: SweepAxis;
  readonly panels: readonly TradeOffPanel[];
  /** One for each class: limits of different classes have no common order. */
  readonly binding?: readonly BindingLimits[];
}

function checked({ x, y, panels, binding = [] }: TradeOffFigureData): void {
  checkSweep(x, "x");
  checkSweep(y, "y");
  const cells = x.values.length * y.values.length;
  const words = `${y.values.length} rows of ${x.values.length}`;
  if (panels.length + binding.length === 0) {
    throw new FerruleError("InvalidValue", { path: "panels", found: "no panel", accepted: "one panel or more" });
  }
  panels.forEach(({ values, scale }, i) => {
    const path = `panels[${i}].values`;
    checkLengths({ [path]: values }, cells, words);
    if (values.some((v) => Number.isFinite(v) && (scale === "linear" || v > 0))) return;
    const accepted =
      scale === "log" ? "one value above 0 or more: the scale is logarithmic" : "one finite value or more";
    throw new FerruleError("InvalidValue", { path, found: "no value that can be drawn", accepted });
  });
  binding.forEach(({ index, verdict, names }, i) => {
    const path = `binding[${i}]`;
    checkLengths({ [`${path}.index`]: index, [`${path}.verdict`]: verdict }, cells, words);
    const range = (side: string, values: Int8Array, [from, to]: readonly [number, number]) => {
      const wrong = values.find((value) => value < from || value > to);
      if (wrong === undefined) return;
      const accepted = `whole numbers from ${from} to ${to}`;
      throw new FerruleError("InvalidValue", { path: `${path}.${side}`, found: String(wrong), accepted });
    };
    range("index", index, [-1, names.length - 1]);
    range("verdict", verdict, [0, verdictWords.length - 1]);
  });
}

/** In rows of up to three, as high as the highest of a row. */
function rowsOf(panels: readonly SvgPanel[], { perRow, width }: { perRow: number; width: number }): SvgPanel {
  const heights = panels.map((panel) => Number(panel.getAttribute("height")));
  const rowHeight = (row: number) => Math.max(...heights.slice(row * perRow, (row + 1) * perRow));
  const tops = panels.map((_, i) => {
    const rows = Array.from({ length: Math.floor(i / perRow) }, (__, row) => rowHeight(row));
    return rows.reduce((sum, height) => sum + height + 10, 0);
  });
  const placed = panels.map((panel, i): PlacedPanel => ({ panel, x: (i % perRow) * (width / perRow), y: tops[i] }));
  return groundOf(placed, { width });
}

/** Three beside each other where there are so many and room for them; two or four are larger. */
const perRowOf = (count: number, width: number): number =>
  Math.min(count === 3 || count > 4 ? 3 : 2, Math.max(1, Math.floor(width / 230)));

function keyOf({ binding = [] }: TradeOffFigureData, { width, canvas }: PanelSize): SvgPanel[] {
  if (binding.length === 0) return [];
  const letters = Math.floor((width - 32) / 6.9); // 12.5 px
  const names = binding.flatMap((limits) => {
    const [first = "none is known", ...more] = bindingNames(limits);
    return flowText([`${bindingHeading(limits).name}: ${first}`, ...more], letters);
  });
  return [
    verdictKey({ width, canvas }),
    textPanel([...names, ...flowText(limitCaution.split(" "), letters, " ")], { width }),
  ];
}

/**
 * Quantities over two sweeps as small maps, each with its own bar and labelled contours; below them, for each class, what
 * our sources say of every point, in greys and hatching, and the number of the limit that is reached first there.
 *
 * @throws FerruleError ShapeMismatch, InvalidValue
 */
export async function tradeOffFigure(
  data: TradeOffFigureData,
  { width = 720, document }: { width?: number; document?: FigureDocument } = {},
): Promise<Figure> {
  checked(data);
  const { x, y, panels, binding = [] } = data;
  const size = { width, canvas: await openCanvas(document) };
  const perRow = perRowOf(panels.length + binding.length, width);
  const wide = width / perRow;
  const headings = [...panels, ...binding.map(bindingHeading)];
  const room = wide - sweepEdges.left - sweepEdges.right;
  const headingRows = Math.max(...headings.map((heading) => headingLines(heading, room).length));
  const frame: SweepFrame = { x, y, width: wide, headingRows, canvas: size.canvas };
  const maps = [
    ...panels.map((panel) => sweepPanel(panel, frame)),
    ...binding.map((limits) => bindingPanel(limits, frame)),
  ];
  const hasEmpty = panels.some(({ values, scale }) =>
    values.some((v) => !Number.isFinite(v) || (scale === "log" && v <= 0)),
  );
  const empty = hasEmpty ? [textPanel(["A crossed cell has no value."], { width })] : [];
  const names = [...panels.map(({ name }) => name), ...binding.map((limits) => `first limit of the ${limits.class}`)];
  const description = `Over ${x.name} and ${y.name}: ${names.join("; ")}.`;
  const drawn = [rowsOf(maps, { perRow, width }), ...empty, ...keyOf(data, size)];
  return { svg: headedSvg(drawn, { ...data, description }, size), data: columnsOf(data) };
}

const snake = (name: string): string =>
  name
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "_")
    .replace(/^_|_$/g, "");

/** One row for each point of the sweeps, x fastest. */
function columnsOf({ x, y, panels, binding = [] }: TradeOffFigureData): FigureColumn[] {
  const columns = x.values.length;
  const points = Array.from({ length: columns * y.values.length }, (_, i) => i);
  return [
    { name: snake(x.name), unit: x.unit, values: points.map((i) => x.values[i % columns]) },
    { name: snake(y.name), unit: y.unit, values: points.map((i) => y.values[Math.floor(i / columns)]) },
    ...panels.map(({ name, unit, values }) => ({ name: snake(name), unit, values })),
    ...binding.flatMap(({ class: of, names, index, verdict }) => [
      {
        name: `first_limit_${snake(of)}`,
        unit: names.map((name, i) => `${i + 1}: ${name}`).join("; "),
        values: Array.from(index, (i) => (i < 0 ? Number.NaN : i + 1)),
      },
      {
        name: `verdict_${snake(of)}`,
        unit: verdictWords.map((words, i) => `${i}: ${words}`).join("; "),
        values: Array.from(verdict),
      },
    ]),
  ];
}
