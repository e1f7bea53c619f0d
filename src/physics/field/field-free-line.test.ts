import { describe, expect, it } from "vitest";
import type { FieldFunction, Vector3 } from "../sources/source.js";
import { distance, dot } from "../sources/vector3.js";
import { findFieldFreeRegion } from "./field-free-region.js";
import { zonalField } from "./zonal-field.js";

const within = { radius_m: 0.03, halfLength_m: 0.06 };

function fieldFrom(at: (x: number, y: number, z: number) => Vector3): FieldFunction {
  return (points, out = new Float64Array(points.length)) => {
    for (let i = 0; i < points.length; i += 3) out.set(at(points[i], points[i + 1], points[i + 2]), i);
    return out;
  };
}

/** Four endless wires along z at (+-b, 0) and (0, +-b), currents in turn opposite: a quadrupole with higher orders. */
function fourWires(b: number): FieldFunction {
  const wires = [0, 1, 2, 3].map((k) => {
    const phi = (k * Math.PI) / 2;
    return { x: b * Math.cos(phi), y: b * Math.sin(phi), sign: k % 2 === 0 ? 1 : -1 };
  });
  return fieldFrom((x, y) => {
    let [bx, by] = [0, 0];
    for (const wire of wires) {
      const [dx, dy] = [x - wire.x, y - wire.y];
      const q = (wire.sign * 1e-3) / (dx * dx + dy * dy);
      bx -= q * dy;
      by += q * dx;
    }
    return [bx, by, 0];
  });
}

const turn = 0.2;
const [c, s] = [Math.cos(turn), Math.sin(turn)];

describe("field-free line", () => {
  it("of four wires runs along the bore, straight, with no residual", () => {
    const region = findFieldFreeRegion(fourWires(0.08), { within });
    expect([region.kind, region.lines.length]).toEqual(["line", 1]);
    const [line] = region.lines;
    expect(dot(line.direction, [0, 0, 1])).toBeCloseTo(1, 12);
    expect(line.straightness_m).toBeLessThan(1e-12);
    expect(line.lengthBelow_m).toBeCloseTo(0.12, 12);
    // 4e-3/b^2 T/m: the closed form of the quadrupole of four wires of mu0 I/(2 pi) = 1e-3 T m.
    expect(Math.abs(line.gradient_T_per_m[1])).toBeCloseTo(4e-3 / 0.08 ** 2, 10);
    expect(line.largestResidual_T).toBeLessThan(1e-13);
    expect(line.ends).toEqual(["bore", "bore"]);
    // One point stands for the line: the one nearest the bore's centre.
    expect(region.zeros.length).toBe(1);
    expect(distance(region.zeros[0].position_m, [0, 0, 0])).toBeLessThan(1e-9);
    expect(region.direction).toEqual(line.direction);
  });

  it("tilted and off the axis keeps its direction and place, and ends at the wall", () => {
    const region = findFieldFreeRegion(
      fieldFrom((x, y, z) => {
        const across = c * x - s * z - 0.002;
        return [c * 3 * across, -3 * (y - 0.004), -s * 3 * across];
      }),
      { within },
    );
    const [line] = region.lines;
    expect(distance(line.direction, [s, 0, c])).toBeLessThan(1e-12);
    expect(line.straightness_m).toBeLessThan(1e-12);
    // From end to end of the bore: 2 L / cos(turn).
    expect(line.lengthBelow_m).toBeCloseTo(0.12 / c, 12);
    expect(line.point_m[1]).toBeCloseTo(0.004, 12);
  });

  it("across the bore is as long as the bore is wide", () => {
    const [line] = findFieldFreeRegion(
      fieldFrom((_, y, z) => [0, 3 * y, -3 * z]),
      { within },
    ).lines;
    expect(line.direction).toEqual([1, 0, 0]);
    expect(line.lengthBelow_m).toBeCloseTo(0.06, 12);
  });

  it("with a gradient of its own is free where that stays below one millimetre across", () => {
    const region = findFieldFreeRegion(
      fieldFrom((x, y, z) => [3 * x, -2.94 * y, -0.06 * (z - 0.01)]),
      { within },
    );
    const [line] = region.lines;
    // |0.06 (z - 0.01)| <= 3 T/m x 1 mm: z from -40 to 60 mm.
    expect(line.limit_T).toBeCloseTo(3e-3, 12);
    expect(line.lengthBelow_m).toBeCloseTo(0.1, 9);
    expect(line.largestResidual_T).toBeCloseTo(0.06 * 0.07, 9);
    expect(region.zeros.length).toBe(1);
    expect(distance(region.zeros[0].position_m, [0, 0, 0.01])).toBeLessThan(1e-14);
  });

  it("with a field along it has a residual and no zero", () => {
    const region = findFieldFreeRegion(
      fieldFrom((x, y) => [3 * x, -3 * y, 1e-3]),
      { within },
    );
    expect([region.kind, region.zeros.length]).toEqual(["line", 0]);
    expect(region.smallest.field_T).toBeCloseTo(1e-3, 12);
    expect([...region.lines[0].residual_T].every((value) => Math.abs(value - 1e-3) < 1e-12)).toBe(true);
    // 4 mT are more than 3 T/m see in a millimetre: no line any more.
    expect(
      findFieldFreeRegion(
        fieldFrom((x, y) => [3 * x, -3 * y, 4e-3]),
        { within },
      ).kind,
    ).toBe("none");
  });

  it("that is too short is a point", () => {
    const elongated = fieldFrom((x, y, z) => [3 * x, -2.8 * y, -0.2 * z]);
    // |0.2 z| <= 3 mT over 30 mm only: as long as the radius is required.
    expect(findFieldFreeRegion(elongated, { within, leastLength_m: 0.029 }).kind).toBe("line");
    const region = findFieldFreeRegion(elongated, { within, leastLength_m: 0.031 });
    expect([region.kind, region.zeros.length]).toEqual(["point", 1]);
    expect(distance(region.zeros[0].position_m, [0, 0, 0])).toBeLessThan(1e-14);
  });

  it("may be a ring: followed round, its bend in the straightness", () => {
    // B_z = 1 + 2 (z^2 - rho^2/2)/a^2, B_rho = -2 z rho/a^2: zero at z = 0, rho = a.
    const a = 0.015;
    const region = findFieldFreeRegion(zonalField([1, 0, 2 / a ** 2]), { within });
    const [line] = region.lines;
    expect([region.kind, line.isClosed]).toEqual(["line", true]);
    for (const place of line.positions_m) expect(Math.hypot(place[0], place[1])).toBeCloseTo(a, 9);
    // Chords of about 4.3 mm/15 mm: short of 2 pi a by angle^2/24, 0.3 %.
    expect(line.lengthBelow_m / (2 * Math.PI * a)).toBeGreaterThan(0.995);
    expect(line.lengthBelow_m / (2 * Math.PI * a)).toBeLessThan(1);
    expect(line.straightness_m).toBeGreaterThan(0.9 * a);
  });

  it("bent by a sextupole across it shows its sagitta", () => {
    // Gradient of the potential g (x^2 - y^2)/2 - g k (x z^2 - x y^2).
    const [g, k] = [3, 0.5];
    const bent = fieldFrom((x, y, z) => [
      g * x - g * k * (z * z - y * y),
      -g * y + 2 * g * k * x * y,
      -2 * g * k * x * z,
    ]);
    const region = findFieldFreeRegion(bent, { within });
    const [line] = region.lines;
    expect(region.kind).toBe("line");
    // In the plane y = 0 the valley runs along x = k z^2 to first order in k z. A parabola of rise h = k z^2 departs from
    // its line of least squares (x = h/3) by 2 h/3 at its ends. Next order: (k z)^2, 1e-3.
    const rise = k * 0.06 ** 2;
    expect(line.straightness_m / ((2 / 3) * rise)).toBeCloseTo(1, 1);
    expect(Math.abs(line.direction[2])).toBeCloseTo(1, 9);
  });
});
