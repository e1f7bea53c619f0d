/** A tracer's width with what is known about it. */
export interface RankedWidth {
  readonly tracer: string;
  readonly width_T: number | null;
  /** k = 1; null: not stated. */
  readonly standardUncertainty_T: number | null;
  /** Why there is no width, where there is none. */
  readonly why: string;
}

export interface RankedTracer extends Omit<RankedWidth, "why"> {
  /** From 1; null without a width. */
  readonly rank: number | null;
  /** Against the next narrower tracer. */
  readonly comparison: string;
}

/** Differences below this many standard uncertainties are not told apart (two-sided 95 %). */
const coverage = 1.96;

/** Narrowest first, each compared with the one before it by the uncertainty of both. */
export function rankTracers(widths: readonly RankedWidth[]): RankedTracer[] {
  const known = widths.filter(({ width_T }) => width_T !== null).sort((a, b) => (a.width_T ?? 0) - (b.width_T ?? 0));
  const unknown = widths.filter(({ width_T }) => width_T === null);
  return [
    ...known.map(({ why: _, ...each }, i) => ({
      ...each,
      rank: i + 1,
      comparison: i === 0 ? "narrowest" : compare(known[i - 1], known[i]),
    })),
    ...unknown.map(({ why, ...each }) => ({ ...each, rank: null, comparison: `not ranked: ${why}` })),
  ];
}

function compare(narrower: RankedWidth, wider: RankedWidth): string {
  const difference = (wider.width_T ?? 0) - (narrower.width_T ?? 0);
  const wide = `${(difference * 1e3).toPrecision(3)} mT wider than ${narrower.tracer}`;
  const u = Math.hypot(narrower.standardUncertainty_T ?? Number.NaN, wider.standardUncertainty_T ?? Number.NaN);
  if (Number.isNaN(u)) return `${wide}; whether that means anything is not known (an uncertainty is not stated)`;
  const sigmas = difference / u;
  const verdict = sigmas > coverage ? "told apart" : "not told apart";
  return `${wide}, ${u === 0 ? "no" : `${sigmas.toPrecision(2)}`} standard uncertainties: ${verdict}`;
}
