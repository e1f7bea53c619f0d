import { distance } from "fastest-levenshtein";

/**
 * The known name that the written one was most likely meant to be, or `undefined` when none is close.
 * Close: at most a third of the letters (and at least two) wrong; letter case is not counted.
 */
export function nearestName(written: string, known: readonly string[]): string | undefined {
  const reach = Math.max(2, Math.floor(written.length / 3));
  // A name can be as long as the document; one that is much longer than any known name is near to none.
  const near = known
    .filter((name) => Math.abs(name.length - written.length) <= reach)
    .map((name) => ({ name, steps: distance(written.toLowerCase(), name.toLowerCase()) }))
    .filter(({ steps }) => steps <= reach);
  near.sort((a, b) => a.steps - b.steps);
  return near[0]?.name;
}

/** `did you mean "psf-width"? ` where a name is near, or nothing: a far-fetched guess misleads more than none. */
export function didYouMean(written: string, known: readonly string[]): string {
  const near = nearestName(written, known);
  return near === undefined ? "" : `did you mean "${near}"? `;
}
