/** Values at the crossings of two ascending sets of coordinates. */
export interface ContourGrid {
  /** Shape [nColumns], ascending. */
  readonly x: ArrayLike<number>;
  /** Shape [nRows], ascending. */
  readonly y: ArrayLike<number>;
  /** Shape [nRows, nColumns]. */
  readonly values: ArrayLike<number>;
}

export type ContourPoint = readonly [number, number];

/** A crossing of a grid line, shared by the cells on both of its sides. */
interface Crossing {
  readonly key: number;
  readonly point: ContourPoint;
}

/**
 * Lines along which the values, linear along every grid line, reach a level. A closed line repeats its first point; no
 * line enters a cell that has a corner without a value. In a saddle the mean of the corners decides.
 *
 * @returns lines in the coordinates of the grid, longest list of points first
 * Checked by  contour-lines.test.ts (circles, straight lines, saddle)
 */
export function contourLines(grid: ContourGrid, level: number): ContourPoint[][] {
  const [columns, rows] = [grid.x.length, grid.y.length];
  const segments: [Crossing, Crossing][] = [];
  for (let row = 0; row + 1 < rows; row++)
    for (let column = 0; column + 1 < columns; column++) segments.push(...cellSegments(grid, level, { row, column }));
  return chained(segments).sort((a, b) => b.length - a.length);
}

function cellSegments(
  { x, y, values }: ContourGrid,
  level: number,
  { row, column }: { row: number; column: number },
): [Crossing, Crossing][] {
  const columns = x.length;
  // Corners anticlockwise from the lower left one.
  const corners = [
    [row, column],
    [row, column + 1],
    [row + 1, column + 1],
    [row + 1, column],
  ] as const;
  const heights = corners.map(([r, c]) => values[r * columns + c] - level);
  if (!heights.every(Number.isFinite)) return [];
  const crossings = corners.flatMap(([r0, c0], i): Crossing[] => {
    const [r1, c1] = corners[(i + 1) % 4];
    const [h0, h1] = [heights[i], heights[(i + 1) % 4]];
    if (h0 >= 0 === h1 >= 0) return [];
    // From the corner with the lower index, so that both neighbours compute the same digits.
    const isForward = r0 * columns + c0 < r1 * columns + c1;
    const [ra, ca, ha, rb, cb, hb] = isForward ? [r0, c0, h0, r1, c1, h1] : [r1, c1, h1, r0, c0, h0];
    const t = ha / (ha - hb);
    const point = [x[ca] + t * (x[cb] - x[ca]), y[ra] + t * (y[rb] - y[ra])] as const;
    return [{ key: 2 * (ra * columns + ca) + (ra === rb ? 0 : 1), point }];
  });
  if (crossings.length < 4) return crossings.length === 2 ? [[crossings[0], crossings[1]]] : [];
  const isMeanAbove = heights.reduce((sum, h) => sum + h, 0) >= 0;
  const [below, right, above, left] = crossings;
  // The mean joins the pair of corners that it agrees with; the lines cut off the other two.
  return isMeanAbove === heights[0] >= 0
    ? [
        [below, right],
        [above, left],
      ]
    : [
        [left, below],
        [right, above],
      ];
}

/** Segments joined where they share a crossing. */
function chained(segments: readonly (readonly [Crossing, Crossing])[]): ContourPoint[][] {
  const at = new Map<number, number[]>();
  segments.forEach(([a, b], i) => {
    for (const { key } of [a, b]) at.set(key, [...(at.get(key) ?? []), i]);
  });
  const used = new Uint8Array(segments.length);
  const walk = (from: Crossing): ContourPoint[] => {
    const points = [from.point];
    let here = from;
    for (;;) {
      const next = (at.get(here.key) ?? []).find((i) => used[i] === 0);
      if (next === undefined) return points;
      used[next] = 1;
      const [a, b] = segments[next];
      here = a.key === here.key ? b : a;
      points.push(here.point);
    }
  };
  const isEnd = ({ key }: Crossing) => at.get(key)?.length === 1;
  const lines: ContourPoint[][] = [];
  // Open lines first, from their ends; what remains is closed.
  const starts = [...segments.flat().filter(isEnd), ...segments.map(([a]) => a)];
  for (const start of starts) {
    const line = walk(start);
    if (line.length > 1) lines.push(line);
  }
  return lines;
}
