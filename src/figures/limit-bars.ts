import { FerruleError } from "../errors.js";
import { fewLogTicks } from "./few-log-ticks.js";
import type { Figure, FigureColumn } from "./figure.js";
import type { FigureDocument } from "./figure-document.js";
import { headedSvg } from "./key-panel.js";
import { limitAxisWidth, limitPanel } from "./limit-bar-panel.js";
import type { LimitBar, LimitGroup } from "./limit-group.js";
import { cautionsOf, ratioText, sourceParagraphs, valueText } from "./limit-rows.js";
import { limitCaution } from "./limit-words.js";
import { logDomain } from "./log-axis.js";
import { flowText, groundOf, textPanel } from "./panel-layout.js";
import { openCanvas, type SvgPanel } from "./render.js";

export interface LimitBarsFigureData {
  readonly title: string;
  readonly subtitle?: string;
  /** One for each class: limits of different classes have no common order. */
  readonly groups: readonly LimitGroup[];
}

function checked(groups: readonly LimitGroup[]): void {
  const refuse = (path: string, found: string, accepted: string) => {
    throw new FerruleError("InvalidValue", { path, found, accepted });
  };
  if (groups.every(({ lines }) => lines.length === 0)) refuse("groups", "no line", "one line or more");
  groups.forEach((group, g) => {
    if (groups.findIndex((other) => other.class === group.class) !== g)
      refuse(`groups[${g}].class`, `${group.class} for the second time`, "one group for each class");
    group.lines.forEach(({ ratioLow: low, ratioHigh: high }, i) => {
      if (low === null && high === null) return;
      const isRange = low !== null && high !== null && low >= 0 && high >= low && Number.isFinite(high);
      const accepted = "0 or above with low not above high, such as 0.2 and 0.5, or null for both";
      if (!isRange) refuse(`groups[${g}].lines[${i}]`, `ratios ${low} and ${high}`, accepted);
    });
  });
}

/** One logarithmic axis for all groups; it holds the limit with some room on both sides. */
function axisOf(groups: readonly LimitGroup[], width: number): { domain: [number, number]; ticks: number[] } {
  const ratios = groups.flatMap(({ lines }) => lines.flatMap(({ ratioLow, ratioHigh }) => [ratioLow, ratioHigh]));
  const domain = logDomain([0.3, 3, ...ratios.filter((ratio) => ratio !== null && ratio > 0)] as number[], 0.06);
  return { domain, ticks: fewLogTicks(domain, Math.floor(limitAxisWidth(width) / 42)) };
}

/**
 * Values over their limits as intervals on one logarithmic axis, apart by class and in the order that they came in; a line
 * without a published threshold says so in words and has neither a bar nor a limit drawn beside it. Beside each bar stand
 * its ratio and, where given, the value and the limit; below its name every source in full, and below all bars the
 * numbered cautions.
 *
 * @throws FerruleError InvalidValue (no line; a class twice; ratios below 0, not finite or in the wrong order)
 */
export async function limitBarsFigure(
  { title, subtitle, groups }: LimitBarsFigureData,
  { width = 720, document }: { width?: number; document?: FigureDocument } = {},
): Promise<Figure> {
  checked(groups);
  const size = { width, canvas: await openCanvas(document) };
  const shown = groups.filter(({ lines }) => lines.length > 0);
  const axis = axisOf(shown, width);
  const withLimit = shown.findIndex(({ lines }) => lines.some(({ ratioHigh }) => ratioHigh !== null));
  const cautions = cautionsOf(shown.flatMap(({ lines }) => lines));
  const panels = shown.map((group, i) =>
    limitPanel(group, { ...size, ...axis, cautions, hasWord: i === withLimit, hasAxis: i === shown.length - 1 }),
  );
  const last = textPanel(flowed(limitCaution, width - 32), { width });
  const lines = shown.map((group) => `${group.class}: ${group.lines.map(inWords).join("; ")}`).join(". ");
  const description = `Value over limit. ${lines}. ${limitCaution}`;
  return {
    svg: headedSvg([...panels, ...footnotes(cautions, width), last], { title, subtitle, description }, size),
    data: columnsOf(shown),
  };
}

function inWords(bar: LimitBar): string {
  const value = valueText(bar);
  const sources = sourceParagraphs(bar.sources).join("; ");
  return `${bar.label}: ${value === "" ? "" : `${value}, `}${ratioText(bar)} (${sources})`;
}

const flowed = (text: string, room_px: number): string[] => flowText(text.split(" "), Math.floor(room_px / 6.9), " ");

/** The cautions by their numbers, each beside its own. */
function footnotes(cautions: readonly string[], width: number): SvgPanel[] {
  let y = 4;
  const children = cautions.flatMap((caution, i) => {
    const rows = flowed(caution, width - 64);
    const top = y;
    y += 17 * rows.length + 3;
    return [
      { panel: textPanel([`[${i + 1}]`], { width }), x: 0, y: top },
      { panel: textPanel(rows, { width, left: 48 }), x: 0, y: top },
    ];
  });
  return children.length === 0 ? [] : [groundOf(children, { width })];
}

function columnsOf(groups: readonly LimitGroup[]): FigureColumn[] {
  const rows = groups.flatMap(({ lines }, g) => lines.map((bar) => ({ g: g + 1, bar })));
  const numbered = (names: readonly string[]) => names.map((name, i) => `${i + 1}: ${name}`).join("; ");
  return [
    { name: "class", unit: numbered(groups.map((group) => group.class)), values: rows.map(({ g }) => g) },
    { name: "line", unit: numbered(rows.map(({ bar }) => bar.label)), values: rows.map((_, i) => i + 1) },
    { name: "ratio_low", unit: "1", values: rows.map(({ bar }) => bar.ratioLow ?? Number.NaN) },
    { name: "ratio_high", unit: "1", values: rows.map(({ bar }) => bar.ratioHigh ?? Number.NaN) },
  ];
}
