import { describe, expect, it } from "vitest";
import type { FieldFunction, Vector3 } from "../sources/source.js";
import { distance } from "../sources/vector3.js";
import { findFieldFreeRegion } from "./field-free-region.js";
import { fieldFreeShift_m } from "./field-free-shift.js";
import { zonalField } from "./zonal-field.js";

const within = { radius_m: 0.03, halfLength_m: 0.06 };

function fieldFrom(at: (x: number, y: number, z: number) => Vector3): FieldFunction {
  return (points, out = new Float64Array(points.length)) => {
    for (let i = 0; i < points.length; i += 3) out.set(at(points[i], points[i + 1], points[i + 2]), i);
    return out;
  };
}

describe("field-free region", () => {
  it("is the point of a gradient with a shift field, wherever it lies", () => {
    const region = findFieldFreeRegion(
      fieldFrom((x, y, z) => [-x + 0.012, -y - 0.0031, 2 * z + 0.05]),
      { within },
    );
    expect(region.kind).toBe("point");
    expect(region.zeros.length).toBe(1);
    const [zero] = region.zeros;
    // -G^{-1} shift; rounding of the positions.
    expect(distance(zero.position_m, [0.012, -0.0031, -0.025])).toBeLessThan(1e-16);
    expect(zero.residual_T).toBeLessThan(1e-17);
    expect([zero.isInside, zero.outcome]).toEqual([true, "converged"]);
    [-1, 0, 0, 0, -1, 0, 0, 0, 2].forEach((value, i) => {
      expect(zero.gradient_T_per_m[i]).toBeCloseTo(value, 11);
    });
    // "A few thousand" field points.
    expect(region.evaluations).toBeLessThan(3000);
  });

  it("finds all three zeros of a gradient with a cubic error", () => {
    const region = findFieldFreeRegion(zonalField([0, 2, 0, -2 / 0.04 ** 2]), { within });
    expect(region.kind).toBe("points");
    expect(region.zeros.map(({ position_m }) => position_m[2].toFixed(12)).sort()).toEqual(
      ["0.000000000000", "-0.040000000000", "0.040000000000"].sort(),
    );
  });

  it("finds zeros by the wall, and says which lie outside", () => {
    const region = findFieldFreeRegion(zonalField([-0.058 * 2, 2]), { within });
    expect([region.kind, region.zeros[0].isInside]).toEqual(["point", true]);
    const beyond = findFieldFreeRegion(zonalField([-0.063 * 2, 2]), { within });
    expect(beyond.kind).toBe("none");
    expect(beyond.zeros.map(({ isInside }) => isInside)).toEqual([false]);
  });

  it("without a zero names the smallest field and its place", () => {
    const region = findFieldFreeRegion(zonalField([0.2, 2]), { within });
    expect([region.kind, region.zeros.length]).toEqual(["none", 0]);
    expect(region.smallest.field_T).toBeCloseTo(0.08, 12);
    // |B|^2 is flat across the axis: the place is found to the root of the rounding.
    expect(distance(region.smallest.position_m, [0, 0, -0.06])).toBeLessThan(1e-7);
    expect(findFieldFreeRegion(zonalField([1e-3]), { within })).toMatchObject({ kind: "none" });
  });

  it("calls a zero without gradient degenerate, in two and in three directions", () => {
    const sextupole = findFieldFreeRegion(
      fieldFrom((x, y) => [x * x - y * y, -2 * x * y, 0]),
      { within },
    );
    expect([sextupole.kind, sextupole.zeros[0].outcome]).toEqual(["degenerate", "degenerate"]);
    const cusp = findFieldFreeRegion(zonalField([0, 0, 1]), { within });
    expect([cusp.kind, cusp.zeros[0].outcome]).toEqual(["degenerate", "degenerate"]);
    expect(distance(cusp.zeros[0].position_m, [0, 0, 0])).toBeLessThan(1e-9);
  });

  it("says so when there is no field", () => {
    expect(
      findFieldFreeRegion(
        fieldFrom(() => [0, 0, 0]),
        { within },
      ).kind,
    ).toBe("no-field");
  });

  it("passes over places without a value", () => {
    const field = zonalField([0, 2]);
    const holed: FieldFunction = (points, out) =>
      field(points, out).map((value, i) => (points[3 * Math.floor(i / 3)] > 0.02 ? Number.NaN : value));
    expect(findFieldFreeRegion(holed, { within }).kind).toBe("point");
  });

  it("follows the bore's axis and centre", () => {
    const center_m: Vector3 = [0.5, 0.2, -0.1];
    const field = zonalField([0, 2], { center_m: [0.55, 0.21, -0.11] });
    const region = findFieldFreeRegion(field, { within: { ...within, axis: "x", center_m } });
    expect(region.kind).toBe("point");
    expect(distance(region.zeros[0].position_m, [0.55, 0.21, -0.11])).toBeLessThan(1e-15);
    const across = findFieldFreeRegion(field, { within: { ...within, axis: "y", center_m } });
    expect(across.kind).toBe("none");
  });

  it("refuses a bore without extent", () => {
    expect(() => findFieldFreeRegion(zonalField([0, 1]), { within: { radius_m: 0.03, halfLength_m: 0 } })).toThrow(
      /positive lengths/,
    );
  });
});

describe("field-free shift", () => {
  it("is -G^{-1} dB for a linear field, and leaves a line's own direction alone", () => {
    const point = Float64Array.of(-1, 0, 0, 0, -1, 0, 0, 0, 2);
    expect(fieldFreeShift_m(point, [1e-3, 0, 4e-3])).toEqual([1e-3, 0, -2e-3]);
    const line = Float64Array.of(2, 0, 0, 0, -2, 0, 0, 0, 0);
    expect(fieldFreeShift_m(line, [1e-3, 1e-3, 5e-3])).toEqual([-5e-4, 5e-4, 0]);
  });

  it("is exact to second order when the field bends", () => {
    const center = findFieldFreeRegion(zonalField([0, 2, 5]), { within }).zeros[0];
    const moveOf = (added_T: number): number =>
      findFieldFreeRegion(zonalField([added_T, 2, 5]), { within }).zeros[0].position_m[2];
    const remainder = (added_T: number): number =>
      moveOf(added_T) - fieldFreeShift_m(center.gradient_T_per_m, [0, 0, added_T])[2];
    // 5 d^2 + 2 d + b = 0: the remainder is -5 d^2/2, and 4 times less for half the field, to first order in d.
    expect(remainder(2e-3) / remainder(1e-3)).toBeCloseTo(4, 1);
    expect(remainder(1e-3)).toBeCloseTo(-2.5 * 0.25e-6, 8);
  });
});
