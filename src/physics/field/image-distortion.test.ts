import { describe, expect, it } from "vitest";
import { findMinimum } from "../../numerics/index.js";
import { langevinSlope } from "../particle/langevin.js";
import type { Vector3 } from "../sources/source.js";
import { gradientReference } from "./gradient-error.js";
import { imageDistortion, imagePositions } from "./image-distortion.js";
import { decompose, determinant } from "./three-by-three.js";
import { zonalField } from "./zonal-field.js";

const [g, c3] = [2, -300];
const field = zonalField([0.01, g, 8, c3]);
const step_m = 5e-4;
const center_m: Vector3 = [0, 0, -0.0048];
const reference = gradientReference(field, center_m, { step_m });

/** Volume enclosed by the image of a sphere about `at`: (1/3) sum over its triangles of the mapped corners' determinant. */
function imageVolume(at: Vector3, radius: number): number {
  const [rings, around] = [80, 160];
  const corners: number[] = [];
  for (let i = 0; i <= rings; i++)
    for (let j = 0; j < around; j++) {
      const [theta, phi] = [(Math.PI * i) / rings, (2 * Math.PI * j) / around];
      const n = [Math.sin(theta) * Math.cos(phi), Math.sin(theta) * Math.sin(phi), Math.cos(theta)];
      corners.push(...n.map((d, k) => at[k] + radius * d));
    }
  const image = imagePositions(field, Float64Array.from(corners), { reference });
  const middle = imagePositions(field, Float64Array.from(at), { reference });
  const corner = (i: number, j: number): number[] =>
    [0, 1, 2].map((k) => image[3 * (i * around + (j % around)) + k] - middle[k]);
  let sum = 0;
  for (let i = 0; i < rings; i++)
    for (let j = 0; j < around; j++) {
      const [a, b, c, d] = [corner(i, j), corner(i + 1, j), corner(i + 1, j + 1), corner(i, j + 1)];
      sum += determinant([...a, ...b, ...c]) + determinant([...a, ...c, ...d]);
    }
  return Math.abs(sum) / 6;
}

describe("image distortion", () => {
  const at: Vector3 = [0.003, -0.004, 0.007];
  const distortion = imageDistortion(field, Float64Array.from(at), { reference, step_m });

  it("changes the concentration by the volume of a small mapped ball", () => {
    const radius = 2e-4;
    const ratio = imageVolume(at, radius) / imageVolume(center_m, radius);
    // det(G^{-1} J) is 1 at the centre. Curvature over the ball: (0.2 mm/20 mm)^2, 1e-4 relative.
    expect(distortion.concentrationFactor[0] * ratio).toBeCloseTo(1, 3);
    expect(Math.abs(ratio - 1)).toBeGreaterThan(0.05);
  });

  it("stretches a small object by G^{-1} J", () => {
    const h = 1e-5;
    const [q0, ...ends] = [
      [0, 0, 0],
      [h, 0, 0],
      [0, h, 0],
      [0, 0, h],
    ].map((by) => imagePositions(field, Float64Array.from(at.map((v, i) => v + by[i])), { reference }));
    ends.forEach((q, j) => {
      // One-sided difference: curvature 20/m times 1e-5 m.
      for (let i = 0; i < 3; i++)
        expect(Math.abs((q[i] - q0[i]) / h - distortion.magnification[3 * i + j])).toBeLessThan(5e-4);
    });
  });

  it("is nothing at all in the ideal field, and nothing at the centre", () => {
    const ideal = zonalField([0, g]);
    const points = Float64Array.of(0.01, 0.02, 0.03, 0, 0, 0);
    const none = imageDistortion(ideal, points, { reference: gradientReference(ideal, [0, 0, 0], { step_m }), step_m });
    for (const value of none.positionError_m) expect(value).toBeLessThan(1e-13);
    for (const value of none.concentrationFactor) expect(value).toBeCloseTo(1, 11);
    const here = imageDistortion(field, Float64Array.from(center_m), { reference, step_m });
    expect(here.concentrationFactor[0]).toBeCloseTo(1, 11);
  });

  it("is what a raster of a real field shows: two points 1 mm apart are drawn closer where the gradient is weaker", () => {
    // Points at z = 9.5 and 10.5 mm, shift fields along z, one signal per shift: the response's slope at B(r) + s, drawn at
    // -s/G. Each point alone has its peak where B + s = 0.
    const symmetric = zonalField([0, g, 0, c3]);
    const ideal = gradientReference(symmetric, [0, 0, 0], { step_m });
    const peak = (z: number): number => {
      const [, , b] = symmetric(Float64Array.of(0, 0, z));
      const signal = (shift: number): number => langevinSlope(900 * (b + shift));
      return -findMinimum((shift) => -signal(shift), [-b - 5e-3, -b + 4e-3]).x / g;
    };
    const apart = (peak(0.0105) - peak(0.0095)) / 1e-3;
    const there = imageDistortion(symmetric, Float64Array.of(0, 0, 0.01), { reference: ideal, step_m });
    // 1 + 3 c z^2/g + c h^2/(4 g): 0.955 and 4e-5 more. Peaks by a minimum search: 1e-8 of 5 mT, 1e-5 of 1 mm.
    expect(Math.abs(apart - there.magnification[8])).toBeLessThan(1e-4);
    expect(there.magnification[8]).toBeCloseTo(1 + (3 * c3 * 1e-4) / g, 9);
  });

  it("keeps the place along a field-free line, and maps across it", () => {
    const line = zonalField([0]);
    const quadrupole = (points: Float64Array): Float64Array =>
      line(points).map((_, i) => {
        const p = 3 * Math.floor(i / 3);
        return i % 3 === 0 ? 3.3 * points[p] : i % 3 === 1 ? -3.3 * points[p + 1] : 0;
      });
    const gradient_T_per_m = Float64Array.of(3, 0, 0, 0, -3, 0, 0, 0, 0);
    const drawn = imageDistortion(quadrupole, Float64Array.of(0.01, 0.02, 0.03), {
      reference: { center_m: [0, 0, 0], gradient_T_per_m },
      step_m,
    });
    [0.011, 0.022, 0.03].forEach((value, i) => {
      expect(drawn.image_m[i]).toBeCloseTo(value, 14);
    });
    expect(drawn.concentrationFactor[0]).toBeCloseTo(1 / 1.21, 9);
    expect([...decompose(drawn.magnification).s].map((value) => value.toFixed(9))).toEqual([
      "1.100000000",
      "1.100000000",
      "1.000000000",
    ]);
  });

  it("counts places behind a fold", () => {
    // Axial gradient 2 - 900 z^2: negative beyond 47 mm.
    const points = Float64Array.of(0, 0, 0.02, 0, 0, 0.06);
    const folded = zonalField([0, g, 0, c3]);
    const ideal = gradientReference(folded, [0, 0, 0], { step_m });
    expect(imageDistortion(folded, points, { reference: ideal, step_m }).folded).toBe(1);
  });

  it("refuses a gradient in one direction", () => {
    const gradient_T_per_m = Float64Array.of(1, 0, 0, 0, 0, 0, 0, 0, 0);
    expect(() =>
      imagePositions(field, Float64Array.of(0, 0, 0), { reference: { center_m, gradient_T_per_m } }),
    ).toThrow(/1 direction only/);
  });
});
