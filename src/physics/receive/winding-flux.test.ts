import { describe, expect, it } from "vitest";
import { FerruleError } from "../../errors.js";
import type { CurrentSource, FieldFunction, RectangleSource, Vector3 } from "../sources/source.js";
import { areaTurns_m2, fluxLinkage_Wb, gradientFlux_Wb } from "./winding-flux.js";

const loop: CurrentSource = {
  kind: "loop",
  center_m: [0.01, -0.02, 0.03],
  normal: [0.6, 0, 0.8],
  radius_m: 0.02,
  current_A: 3,
};
const rectangle: RectangleSource = {
  kind: "rectangle",
  center_m: [0.01, 0.02, -0.01],
  normal: [0, 0, 1],
  edge: [0.6, 0.8, 0],
  size_m: [0.03, 0.05],
  current_A: -4,
};
const stack: CurrentSource = {
  kind: "coil-stack",
  center_m: [0, 0.01, 0],
  normal: [0, 1, 0],
  innerRadius_m: 0.02,
  outerRadius_m: 0.03,
  length_m: 0.04,
  current_A: 100,
};
/** Traceless and symmetric, T/m. */
const gradient = Float64Array.of(1, 0.2, -0.3, 0.2, -3, 0.4, -0.3, 0.4, 2);
const linear: FieldFunction = (points_m, out = new Float64Array(points_m.length)) => {
  for (let i = 0; i < points_m.length; i += 3)
    for (let k = 0; k < 3; k++)
      out[i + k] =
        gradient[3 * k] * points_m[i] + gradient[3 * k + 1] * points_m[i + 1] + gradient[3 * k + 2] * points_m[i + 2];
  return out;
};

/** The same rectangle as four sides, turning right-handed about its normal. */
function sidesOf({ center_m, edge, size_m, current_A }: RectangleSource): CurrentSource[] {
  const across: Vector3 = [-edge[1], edge[0], 0];
  const corner = (u: number, v: number): Vector3 => [
    center_m[0] + (u * size_m[0] * edge[0] + v * size_m[1] * across[0]) / 2,
    center_m[1] + (u * size_m[0] * edge[1] + v * size_m[1] * across[1]) / 2,
    center_m[2],
  ];
  const corners = [corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)];
  return corners.map((from_m, i) => ({ kind: "segment", from_m, to_m: corners[(i + 1) % 4], current_A }));
}

describe("flux through windings", () => {
  it("area-turns of a loop, a rectangle and a stack", () => {
    expect(areaTurns_m2([loop])[2]).toBeCloseTo(3 * Math.PI * 4e-4 * 0.8, 15);
    expect(areaTurns_m2([rectangle])[2]).toBeCloseTo(-4 * 0.0015, 15);
    // Mean of pi r^2 between 20 and 30 mm.
    expect(areaTurns_m2([stack])[1]).toBeCloseTo((100 * Math.PI * (4e-4 + 6e-4 + 9e-4)) / 3, 12);
  });

  it("a rectangle and its four sides agree, for a uniform and a linear field", () => {
    const sides = sidesOf(rectangle);
    areaTurns_m2([rectangle]).forEach((value, k) => {
      expect(areaTurns_m2(sides)[k]).toBeCloseTo(value, 15);
    });
    expect(gradientFlux_Wb(sides, gradient)).toBeCloseTo(gradientFlux_Wb([rectangle], gradient), 15);
  });

  it("quadrature returns the closed form for a linear field, every kind of winding", () => {
    for (const winding of [loop, rectangle, stack]) {
      const flux = gradientFlux_Wb([winding], gradient);
      expect(fluxLinkage_Wb([winding], linear, { nodes: 4 }) / flux).toBeCloseTo(1, 11);
    }
    const all = gradientFlux_Wb([loop, rectangle, stack], gradient);
    expect(fluxLinkage_Wb([loop, rectangle, stack], linear, { nodes: 4 })).toBeCloseTo(all, 14);
  });

  it("refuses an open path, no turns, no windings, and a surface for segments", () => {
    expect(() => areaTurns_m2(sidesOf(rectangle).slice(1))).toThrow(/gap/);
    expect(() => areaTurns_m2([{ ...loop, current_A: 0 }])).toThrow(/windings\[0\]\.current_A/);
    expect(() => areaTurns_m2([])).toThrow(FerruleError);
    expect(() => fluxLinkage_Wb(sidesOf(rectangle), linear)).toThrow(/no surface/);
  });
});
