import { describe, expect, it } from "vitest";
import { clippedLine, clippedSegment } from "./clip-line.js";
import { fallingLines, latticePoints, risingLines } from "./hatching.js";

const frame = { left: 3, right: 24, low: -5, high: 8 };

describe("clippedSegment", () => {
  it.each([
    [
      "through",
      [-7, 0],
      [34, 0],
      [
        [3, 0],
        [24, 0],
      ],
    ],
    [
      "inside",
      [4, 1],
      [5, 2],
      [
        [4, 1],
        [5, 2],
      ],
    ],
    [
      "into a corner region",
      [3, 12],
      [11, 4],
      [
        [7, 8],
        [11, 4],
      ],
    ],
    ["beside it", [0, 0], [2, 5], null],
    ["along it, outside", [0, 9], [30, 9], null],
  ] as const)("%s", (_, a, b, expected) => expect(clippedSegment(a, b, frame)).toEqual(expected));
  it("splits a line that leaves and comes back", () => {
    const parts = clippedLine(
      [
        [4, 0],
        [10, 0],
        [10, 20],
        [20, 20],
        [20, 0],
      ],
      frame,
    );
    expect(parts).toEqual([
      [
        [4, 0],
        [10, 0],
        [10, 8],
      ],
      [
        [20, 8],
        [20, 0],
      ],
    ]);
  });
});

describe("hatching", () => {
  it.each([
    ["rising", risingLines, 1],
    ["falling", fallingLines, -1],
  ] as const)("%s lines stay inside, are so far apart, and go on in the neighbour", (_, lines, slope) => {
    const all = lines(frame, 7);
    expect(all.length).toBeGreaterThan(3);
    for (const [a, b] of all) {
      expect((b[1] - a[1]) / (b[0] - a[0])).toBeCloseTo(slope, 12);
      const offset = (a[1] - slope * a[0]) / 7; // a multiple of the gap whatever the rectangle: neighbours agree
      expect(offset).toBeCloseTo(Math.round(offset), 12);
      for (const [x, y] of [a, b]) {
        expect(x).toBeGreaterThanOrEqual(3 - 1e-9);
        expect(x).toBeLessThanOrEqual(24 + 1e-9);
        expect(y).toBeGreaterThanOrEqual(-5 - 1e-9);
        expect(y).toBeLessThanOrEqual(8 + 1e-9);
      }
    }
  });
  it("lattice points fill a rectangle, one for each gap by gap", () => {
    expect(latticePoints({ left: 0, right: 70, low: 0, high: 21 }, 7)).toHaveLength(30);
    expect(latticePoints({ left: 0, right: 3, low: 0, high: 3 }, 7)).toEqual([]);
  });
});
