/** "lines 3, 4, 9" - the first ten. */
export function lineList(lines: readonly number[]): string {
  const shown = lines.slice(0, 10).join(", ");
  const more = lines.length > 10 ? ` and ${lines.length - 10} more` : "";
  return `${lines.length === 1 ? "line" : "lines"} ${shown}${more}`;
}

/** What reading the rows has to tell: rows left out, and a last number that may be cut. */
export function rowFindings({ dropped, cutLine }: { readonly dropped: readonly number[]; readonly cutLine?: number }) {
  return [
    ...(dropped.length === 0 ? [] : [`left out for blank or NaN cells: ${lineList(dropped)}`]),
    ...(cutLine === undefined
      ? []
      : [`no line end after the last number, which is shorter than all above it (a cut file?): line ${cutLine}`]),
  ];
}
