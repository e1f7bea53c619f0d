import { formatNumber } from "../units/index.js";
import type { LimitBar, LimitSource } from "./limit-group.js";
import { verdictWords } from "./limit-words.js";
import { flowText } from "./panel-layout.js";

/** A line of the figure with its words in rows; picture elements from the top of its panel. */
export interface LimitRow {
  readonly bar: LimitBar;
  readonly label: readonly string[];
  readonly sources: readonly string[];
  readonly top: number;
  readonly bottom: number;
  /** Where its bar lies: beside its name. */
  readonly middle: number;
}

/** Value over limit: "1.15 to 3.10". */
export function ratioText({ ratioLow, ratioHigh }: LimitBar): string {
  if (ratioLow === null || ratioHigh === null) return verdictWords[3];
  const [low, high] = [formatNumber(ratioLow, 3), formatNumber(ratioHigh, 3)];
  return low === high ? low : `${low} to ${high}`;
}

/** "12.0 mT of 7.60 mT"; empty where no value is given. */
export function valueText({ value = "", limit }: LimitBar): string {
  return value === "" || limit === undefined ? value : `${value} of ${limit}`;
}

/** Every caution once, in the order of the lines: its number is its place from 1. */
export function cautionsOf(bars: readonly LimitBar[]): string[] {
  const all = bars.flatMap(({ sources }) => sources.map(({ caution }) => caution ?? ""));
  return [...new Set(all)].filter((caution) => caution !== "");
}

/** "A [1]; B [2] (each: 2022 edition)": sources that follow each other in one edition stand together, in full. */
export function sourceParagraphs(sources: readonly LimitSource[], cautions: readonly string[] = []): string[] {
  const groups: { edition: string | undefined; names: string[] }[] = [];
  for (const { name, edition, caution } of sources) {
    const number = cautions.indexOf(caution ?? "") + 1;
    const words = number === 0 ? name : `${name} [${number}]`;
    const last = groups.at(-1);
    if (last !== undefined && last.edition === edition) last.names.push(words);
    else groups.push({ edition, names: [words] });
  }
  return groups.map(({ edition, names }) => {
    if (edition === undefined) return names.join("; ");
    return `${names.join("; ")} (${names.length > 1 ? "each: " : ""}${edition})`;
  });
}

const lineHeight_px = 16;
/** A bar with two rows of words below it. */
const leastHeight_px = 3 * lineHeight_px;
const middle_px = 18;

/** The lines one below the other, each as high as its words ask for; nothing is cut. */
export function limitRows(
  lines: readonly LimitBar[],
  { start, room, cautions }: { start: number; room: number; cautions: readonly string[] },
): LimitRow[] {
  const flowed = (text: string, letter_px: number) => flowText(text.split(" "), Math.floor(room / letter_px), " ");
  let top = start;
  return lines.map((bar) => {
    const label = flowed(bar.label, 7.3); // 13 px
    const sources = sourceParagraphs(bar.sources, cautions).flatMap((words) => flowed(words, 6.5)); // 11.5 px
    const height = Math.max(leastHeight_px, lineHeight_px * (label.length + sources.length)) + 14;
    const row = { bar, label, sources, top, bottom: top + height, middle: top + middle_px };
    top += height;
    return row;
  });
}

/** Each row of words and where it stands. */
export function rowWords(rows: readonly LimitRow[], side: "label" | "sources"): { words: string; y: number }[] {
  return rows.flatMap((row) => {
    const first = side === "label" ? 0 : row.label.length;
    return row[side].map((words, i) => ({ words, y: row.top + 13 + lineHeight_px * (first + i) }));
  });
}
