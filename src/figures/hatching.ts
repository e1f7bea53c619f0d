import { clippedSegment, type Frame, type Point } from "./clip-line.js";

/** Lines rising to the right across a rectangle, a fixed distance apart, in register with those of its neighbours. */
export function risingLines(frame: Frame, gap: number): (readonly [Point, Point])[] {
  const { left, right, low, high } = frame;
  const first = Math.ceil((low - right) / gap);
  const last = Math.floor((high - left) / gap);
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => {
    const offset = (first + i) * gap;
    return clippedSegment([left, left + offset], [right, right + offset], frame);
  }).filter((line) => line !== null);
}

/** The same, falling to the right. */
export function fallingLines({ left, right, low, high }: Frame, gap: number): (readonly [Point, Point])[] {
  const mirrored = risingLines({ left, right, low: -high, high: -low }, gap);
  return mirrored.map(([a, b]) => [
    [a[0], -a[1]],
    [b[0], -b[1]],
  ]);
}

/** Points of a square lattice inside a rectangle. */
export function latticePoints({ left, right, low, high }: Frame, gap: number): Point[] {
  const within = (from: number, to: number): number[] => {
    const first = Math.ceil(from / gap - 0.5);
    const last = Math.floor(to / gap - 0.5);
    return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => (first + i + 0.5) * gap);
  };
  return within(low, high).flatMap((y) => within(left, right).map((x): Point => [x, y]));
}
