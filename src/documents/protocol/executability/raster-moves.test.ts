import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Axis, axes } from "../../fields/axis-field.js";
import type { Vector3 } from "../../fields/vector-field.js";
import type { AxisPositions } from "../axis-positions.js";
import { largestMove } from "./raster-moves.js";

type Positions = Readonly<Record<Axis, AxisPositions>>;

const range = fc
  .record({
    from: fc.integer({ min: -20, max: 20 }),
    step: fc.integer({ min: 1, max: 5 }),
    count: fc.integer({ min: 1, max: 4 }),
  })
  .map(({ from, step, count }): AxisPositions => ({ from_m: from, to_m: from + step * (count - 1), count }));

/** The raster walked patch by patch: the drive axis fastest, then x, y, z. */
function walked(row: Vector3, positions: Positions, driveAxis: Axis): number {
  const order = [driveAxis, ...axes.filter((each) => each !== driveAxis)];
  const at = (axis: Axis, i: number) => {
    const { from_m, to_m, count } = positions[axis];
    return from_m + (count === 1 ? 0 : (i * (to_m - from_m)) / (count - 1));
  };
  const [fast, middle, slow] = order;
  const values: number[] = [];
  for (let k = 0; k < positions[slow].count; k++)
    for (let j = 0; j < positions[middle].count; j++)
      for (let i = 0; i < positions[fast].count; i++)
        values.push(
          row[axes.indexOf(fast)] * at(fast, i) +
            row[axes.indexOf(middle)] * at(middle, j) +
            row[axes.indexOf(slow)] * at(slow, k),
        );
  return values.slice(1).reduce((largest, value, i) => Math.max(largest, Math.abs(value - values[i])), 0);
}

describe("largestMove", () => {
  it("is the largest difference between patches that follow each other", () => {
    const slope = fc.integer({ min: -3, max: 3 });
    fc.assert(
      fc.property(
        fc.tuple(slope, slope, slope),
        fc.record({ x: range, y: range, z: range }),
        fc.constantFrom(...axes),
        (row, positions, driveAxis) => {
          const found = largestMove(row, { raster: { axes: positions }, driveAxis });
          expect(Math.abs(found - walked(row, positions, driveAxis))).toBeLessThan(1e-9); // sums of integers over thirds
        },
      ),
      { numRuns: 500 },
    );
  });

  it("counts the way back of the fast axis, and only a step of the slowest", () => {
    const raster = {
      axes: {
        x: { from_m: -0.01, to_m: 0.01, count: 21 },
        y: { from_m: 0, to_m: 0, count: 1 },
        z: { from_m: -0.008, to_m: 0.008, count: 5 },
      },
    };
    expect(largestMove([0, 0, 7], { raster, driveAxis: "z" })).toBeCloseTo(7 * 0.016, 12);
    expect(largestMove([3.5, 0, 0], { raster, driveAxis: "z" })).toBeCloseTo(3.5 * 0.001, 12);
    expect(largestMove([0, 1, 0], { raster, driveAxis: "z" })).toBe(0);
  });
});
