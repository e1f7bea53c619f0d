import { describe, expect, it } from "vitest";
import { vacuumPermeability_T_m_per_A as mu0 } from "../../units/index.js";
import { fieldAtPoint } from "./field-of-sources.js";
import type { CoilStackSource, RingSectorSource, Vector3 } from "./source.js";

const ring: RingSectorSource = {
  kind: "ring-sector",
  center_m: [0, 0, 0],
  axis: [0, 0, 1],
  reference: [1, 0, 0],
  innerRadius_m: 0.05,
  outerRadius_m: 0.1,
  length_m: 0.12,
  fromAngle_rad: 0,
  toAngle_rad: 2 * Math.PI,
  remanence_T: [0.4, -0.2, 0.9],
};
const points: readonly Vector3[] = [
  [0, 0, 0],
  [0.02, -0.03, 0.01],
  [0.07, 0.01, 0.02],
  [-0.03, 0.09, 0.0599],
  [0.2, 0.1, -0.1],
  [2, 1, 3],
];
const differs = (a: ArrayLike<number>, b: ArrayLike<number>) => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

describe("ring sector", () => {
  it("seven sectors make the whole ring, inside the magnet too", () => {
    const angles = [0, 0.3, 1, 2.2, 3, 3.9, 5.1, 2 * Math.PI];
    const sectors = angles
      .slice(1)
      .map((toAngle_rad, i): RingSectorSource => ({ ...ring, fromAngle_rad: angles[i], toAngle_rad }));
    for (const point of points) {
      const whole = fieldAtPoint([ring], point);
      expect(differs(whole, fieldAtPoint(sectors, point))).toBeLessThan(1e-13 * Math.max(Math.hypot(...whole), 1e-3));
    }
  });

  it("an axially magnetised ring is two current sheets", () => {
    const axial: RingSectorSource = { ...ring, remanence_T: [0, 0, 1] };
    const sheets = [ring.outerRadius_m, -ring.innerRadius_m].map(
      (signed): CoilStackSource => ({
        kind: "coil-stack",
        center_m: [0, 0, 0],
        normal: [0, 0, 1],
        innerRadius_m: Math.abs(signed),
        outerRadius_m: Math.abs(signed),
        length_m: 0.12,
        current_A: (Math.sign(signed) * 0.12) / mu0,
      }),
    );
    for (const point of points) {
      const expected = fieldAtPoint(sheets, point);
      expect(differs(fieldAtPoint([axial], point), expected)).toBeLessThan(1e-12 * Math.hypot(...expected));
    }
  });

  it("at the curved faces: the limit from outside, normal component continuous", () => {
    const at = (rho: number) => fieldAtPoint([ring], [rho, 0, 0.02]);
    for (const r of [0.05, 0.1]) {
      const [below, on, above] = [at(r * (1 - 1e-8)), at(r), at(r * (1 + 1e-8))];
      expect(differs(on, above)).toBeLessThan(1e-6);
      expect(Math.abs(below[0] - above[0])).toBeLessThan(1e-6);
      expect(Math.abs(below[1] - above[1])).toBeCloseTo(0.2, 6);
    }
  });

  it("turns with its frame: the same sector said in two ways", () => {
    const sector: RingSectorSource = { ...ring, fromAngle_rad: 0.2, toAngle_rad: 1 };
    const other: RingSectorSource = {
      ...ring,
      reference: [0, 1, 0],
      fromAngle_rad: 0.2 - Math.PI / 2,
      toAngle_rad: 1 - Math.PI / 2,
    };
    for (const point of points)
      expect(differs(fieldAtPoint([sector], point), fieldAtPoint([other], point))).toBeLessThan(1e-14);
  });

  it("side planes and mid-angle are no special places", () => {
    const sector: RingSectorSource = { ...ring, fromAngle_rad: 0, toAngle_rad: 0.5 };
    const on = fieldAtPoint([sector], [0.07, 0, 0.01]);
    const above = fieldAtPoint([sector], [0.07, 1e-12, 0.01]);
    expect(differs(on, above)).toBeLessThan(1e-9);
    const below = fieldAtPoint([sector], [0.07, -1e-12, 0.01]);
    expect(Math.abs(below[1] - above[1])).toBeLessThan(1e-9);
  });
});
