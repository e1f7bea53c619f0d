import { describe, expect, it } from "vitest";
import { isKnownError } from "../../errors.js";
import { axes, axisIndex, diagonalGradient, diagonalOf, fieldAt, shiftFieldFor } from "./ideal-gradient.js";

type Vector = [number, number, number];
const point = diagonalGradient([-3.5, -3.5, 7]);
/** Mixed axes: a quadrupole turned by 30 degrees about z, with a gradient along z. Symmetric and traceless. */
const [c, s] = [Math.cos(Math.PI / 3), Math.sin(Math.PI / 3)];
const turned = { gradient_T_per_m: Float64Array.of(2 * c - 1, 2 * s, 0, 2 * s, -2 * c - 1, 0, 0, 0, 2) };

function jacobian(gradient: typeof point, at: Vector): number[][] {
  const h = 1e-3;
  return [0, 1, 2].map((i) =>
    [0, 1, 2].map((j) => {
      const moved = (step: number): Vector => at.map((value, axis) => value + (axis === j ? step : 0)) as Vector;
      return (fieldAt(gradient, moved(h), [0, 0, 0])[i] - fieldAt(gradient, moved(-h), [0, 0, 0])[i]) / (2 * h);
    }),
  );
}

describe("ideal gradient", () => {
  it.each([
    ["a field-free point", point],
    ["a turned quadrupole", turned],
  ])("%s has neither divergence nor curl, anywhere", (_, gradient) => {
    for (const at of [
      [0, 0, 0],
      [0.01, -0.02, 0.03],
    ] as Vector[]) {
      const j = jacobian(gradient, at);
      // A linear field has an exact central difference; rounding of 0.1 T over 1 mm leaves 1e-13 T/m.
      expect(Math.abs(j[0][0] + j[1][1] + j[2][2])).toBeLessThan(1e-12);
      for (const [a, b] of [
        [0, 1],
        [1, 2],
        [2, 0],
      ])
        expect(Math.abs(j[a][b] - j[b][a])).toBeLessThan(1e-12);
    }
  });

  it("of a point is twice as steep along its axis, with the opposite sign", () => {
    expect(fieldAt(point, [1e-3, 0, 0], [0, 0, 0])[0]).toBeCloseTo(-3.5e-3, 15);
    expect(fieldAt(point, [0, 0, 1e-3], [0, 0, 0])[2]).toBeCloseTo(7e-3, 15);
  });

  it.each([
    ["point", point],
    ["turned", turned],
  ])("%s: the shift field moves the field-free place where it was asked", (_, gradient) => {
    const wanted: Vector = [3e-3, -5e-3, 8e-3];
    const there = fieldAt(gradient, wanted, shiftFieldFor(gradient, wanted));
    expect(Math.hypot(...there)).toBeLessThan(1e-17);
    expect(Math.hypot(...fieldAt(gradient, [0, 0, 0], shiftFieldFor(gradient, wanted)))).toBeGreaterThan(1e-3);
  });

  it("covering 80 mm at 7 T/m takes plus and minus 280 mT (definitions, surprise 12)", () => {
    expect(Math.abs(shiftFieldFor(point, [0, 0, 0.04])[2])).toBeCloseTo(0.28, 12);
  });

  it("gives back its diagonal, and names axes in order", () => {
    expect(diagonalOf(point)).toEqual([-3.5, -3.5, 7]);
    expect(diagonalOf(diagonalGradient([7, -7, 0]))).toEqual([7, -7, 0]);
    expect(axes.map(axisIndex)).toEqual([0, 1, 2]);
  });

  it.each<[string, () => unknown, RegExp]>([
    ["an isotropic point", () => diagonalGradient([7, 7, 7]), /trace is 21 T\/m/],
    ["a slightly wrong trace", () => diagonalGradient([-3.5, -3.5, 7.001]), /traceless/],
    ["no field at all", () => diagonalGradient([0, 0, 0]), /traceless/],
    ["not a number", () => diagonalGradient([Number.NaN, 0, 0]), /traceless/],
    ["mixed axes where none may mix", () => diagonalOf(turned), /off-diagonal/],
  ])("refuses %s", (_, act, message) => {
    expect(act).toThrow(message);
    try {
      act();
    } catch (error) {
      expect(isKnownError(error, "InvalidValue")).toBe(true);
    }
  });

  it("accepts what decimals leave of a zero trace", () => {
    expect(() => diagonalGradient([-0.1, -0.2, 0.1 + 0.2])).not.toThrow();
  });
});
