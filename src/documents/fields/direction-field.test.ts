import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { directionField } from "./direction-field.js";

const field = directionField("direction");

describe("directionField", () => {
  it("takes an axis by its letter", () => {
    expect(["x", "y", "z"].map((letter) => field.parse(letter))).toEqual([
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ]);
  });

  it("makes three numbers a unit vector of the same direction", () => {
    const part = fc.double({ min: -1e3, max: 1e3, noNaN: true });
    fc.assert(
      fc.property(fc.tuple(part, part, part), (vector) => {
        fc.pre(Math.hypot(...vector) > 1e-100);
        const unit = field.parse(vector);
        expect(Math.abs(Math.hypot(...unit) - 1)).toBeLessThan(1e-15 * 4);
        vector.forEach((each, i) => {
          expect(Math.abs(unit[i] * Math.hypot(...vector) - each)).toBeLessThanOrEqual(1e-12 * Math.abs(each) + 1e-300);
        });
      }),
    );
    expect(field.parse([0, 3, 4])).toEqual([0, 0.6, 0.8]);
  });

  it.each([[[0, 0, 0]], [[0, 1]], [["1", 0, 0]], ["w"], [null]])("refuses %j", (value) => {
    expect(field.safeParse(value).success).toBe(false);
  });
});
