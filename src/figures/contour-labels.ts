import type { Frame, Point } from "./clip-line.js";

/** Lines of one level in picture elements, and words for it: the first that find a place are taken. */
export interface LabelledLines {
  readonly words: readonly string[];
  readonly lines: readonly (readonly Point[])[];
}

export interface PlacedLabel {
  readonly x: number;
  readonly y: number;
  readonly words: string;
}

const letter = 7.2;
const half = 7;

const boxOf = ([x, y]: Point, words: string): Frame => {
  const reach = (words.length * letter) / 2 + 2;
  return { left: x - reach, right: x + reach, low: y - half, high: y + half };
};

const overlap = (a: Frame, b: Frame): boolean =>
  a.left < b.right && b.left < a.right && a.low < b.high && b.low < a.high;

const holds = (outer: Frame, inner: Frame): boolean =>
  inner.left >= outer.left + 1 &&
  inner.right <= outer.right - 1 &&
  inner.low >= outer.low + 1 &&
  inner.high <= outer.high - 1;

const isIn = ({ left, right, low, high }: Frame, [x, y]: Point): boolean =>
  x > left && x < right && y > low && y < high;

/** Points along the longest line, about every 6 picture elements, from a quarter of its length on. */
function candidates(lines: LabelledLines["lines"]): Point[] {
  const lengthOf = (line: readonly Point[]) =>
    line.slice(1).reduce((sum, [x, y], i) => sum + Math.hypot(x - line[i][0], y - line[i][1]), 0);
  const longest = lines.reduce<{ line: readonly Point[]; length: number }>(
    (best, line) => {
      const length = lengthOf(line);
      return length > best.length ? { line, length } : best;
    },
    { line: [], length: 0 },
  );
  if (longest.length < 24) return [];
  const places: Point[] = [];
  let since = 6;
  longest.line.forEach((point, i) => {
    const before = longest.line[Math.max(0, i - 1)];
    since += Math.hypot(point[0] - before[0], point[1] - before[1]);
    if (since < 6) return;
    places.push(point);
    since = 0;
  });
  const start = Math.floor(places.length / 4);
  return [...places.slice(start), ...places.slice(0, start)];
}

/**
 * A place on its line for the label of each level: inside the frame, off every label set before it; off
 * the lines of other levels and `others` where there is such a place. Words longer than half of the frame are passed over.
 * A level without a place has no label.
 */
export function contourLabels(
  levels: readonly LabelledLines[],
  { frame, others = [] }: { frame: Frame; others?: readonly Point[] },
): PlacedLabel[] {
  const boxes: Frame[] = [];
  const longest = (frame.right - frame.left) / 2 / letter;
  return levels.flatMap(({ words, lines }, level) => {
    const avoided = [...others, ...levels.filter((_, i) => i !== level).flatMap((other) => other.lines.flat())];
    const places = candidates(lines);
    for (const text of words.filter(({ length }) => length <= longest)) {
      const fitting = places.filter((point) => {
        const box = boxOf(point, text);
        return holds(frame, box) && !boxes.some((other) => overlap(box, other));
      });
      const best = fitting.find((point) => !avoided.some((other) => isIn(boxOf(point, text), other))) ?? fitting[0];
      if (best === undefined) continue;
      boxes.push(boxOf(best, text));
      return [{ x: best[0], y: best[1], words: text }];
    }
    return [];
  });
}
