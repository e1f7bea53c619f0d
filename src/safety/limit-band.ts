import type { LimitClass, LimitLine } from "./limit-line.js";
import { noPublishedThreshold, whoDecides } from "./research-use.js";

/** One quantity against all sources that speak of it: where they disagree, an interval. */
export interface LimitBand extends Pick<LimitLine, "class" | "quantity" | "axis" | "bodyPart"> {
  /** value / limit against the most lenient and the strictest source. */
  readonly ratio: { readonly low: number; readonly high: number } | null;
  /** Sources that give a limit. */
  readonly sources: readonly string[];
  /** Sources, or gaps in them, that were looked at and give none. */
  readonly sourcesWithoutLimit: readonly string[];
  readonly verdict: string;
}

/**
 * Lines of one class, quantity, axis and body part together, in the order in which they first appear.
 * Disagreement between sources stays visible: nothing is averaged and no source is preferred.
 */
export function limitBands(lines: readonly LimitLine[]): LimitBand[] {
  const groups = new Map<string, LimitLine[]>();
  for (const line of lines) {
    const key = JSON.stringify([line.class, line.quantity, line.axis, line.bodyPart]);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [line]);
    else group.push(line);
  }
  return [...groups.values()].map(bandOf);
}

function bandOf(group: readonly LimitLine[]): LimitBand {
  const [{ class: limitClass, quantity, axis, bodyPart }] = group;
  const ratios = group.flatMap((line) => (line.ratio === null ? [] : [line.ratio]));
  const ratio = ratios.length === 0 ? null : { low: Math.min(...ratios), high: Math.max(...ratios) };
  return {
    class: limitClass,
    quantity,
    axis,
    bodyPart,
    ratio,
    sources: distinctSources(group.filter((line) => line.limit !== null)),
    sourcesWithoutLimit: distinctSources(group.filter((line) => line.limit === null)),
    verdict: `${isDose(quantity) ? doseWords(ratio) : verdictOf(ratio)}; ${whoDecides}`,
  };
}

const distinctSources = (lines: readonly LimitLine[]): string[] => [...new Set(lines.map(({ source }) => source))];

/** A labelled dose is a dose of another product, no limit of this one. */
const isDose = (quantity: string): boolean => quantity.startsWith("iron dose");

function doseWords(ratio: LimitBand["ratio"]): string {
  if (ratio === null) return noPublishedThreshold;
  if (ratio.high < 1) return "below every labelled dose in our sources";
  return ratio.low >= 1
    ? "at or above every labelled dose in our sources"
    : "between the labelled doses of our sources";
}

/** A limit that is just reached counts as passed. */
function verdictOf(ratio: LimitBand["ratio"]): string {
  if (ratio === null) return noPublishedThreshold;
  if (ratio.high < 1) return "below every limit in our sources";
  return ratio.low >= 1 ? "above every limit in our sources" : "between the limits of our sources";
}

/**
 * The limit that is reached first within each class: the band whose strictest source is nearest to, or furthest beyond,
 * its limit. Never across classes. A class in which no source gives a limit has no entry.
 */
export function firstLimits(bands: readonly LimitBand[]): Partial<Record<LimitClass, LimitBand>> {
  const first: Partial<Record<LimitClass, LimitBand>> = {};
  for (const band of bands) {
    const leader = first[band.class];
    if (band.ratio === null) continue;
    if (!leader?.ratio || band.ratio.high > leader.ratio.high) first[band.class] = band;
  }
  return first;
}
