/** A rectangle by its sides. */
export interface Frame {
  readonly left: number;
  readonly right: number;
  readonly low: number;
  readonly high: number;
}

export type Point = readonly [number, number];

/** The part of a segment inside a rectangle; nothing where it passes by (Liang and Barsky's parameters). */
export function clippedSegment(a: Point, b: Point, { left, right, low, high }: Frame): readonly [Point, Point] | null {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  let [from, to] = [0, 1];
  const sides = [
    [-dx, a[0] - left],
    [dx, right - a[0]],
    [-dy, a[1] - low],
    [dy, high - a[1]],
  ];
  for (const [outward, room] of sides) {
    if (outward === 0 && room < 0) return null;
    if (outward < 0) from = Math.max(from, room / outward);
    if (outward > 0) to = Math.min(to, room / outward);
  }
  if (from >= to) return null;
  const at = (t: number): Point => [a[0] + t * dx, a[1] + t * dy];
  return [at(from), at(to)];
}

/** The parts of a line inside a rectangle, each a line of its own. */
export function clippedLine(points: readonly Point[], frame: Frame): Point[][] {
  const parts: Point[][] = [];
  for (let i = 0; i + 1 < points.length; i++) {
    const piece = clippedSegment(points[i], points[i + 1], frame);
    if (piece === null) continue;
    const last = parts.at(-1);
    const end = last?.at(-1);
    const goesOn = end !== undefined && end[0] === piece[0][0] && end[1] === piece[0][1];
    if (last !== undefined && goesOn) last.push(piece[1]);
    else parts.push([...piece]);
  }
  return parts;
}
