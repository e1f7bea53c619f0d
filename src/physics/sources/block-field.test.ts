import { describe, expect, it } from "vitest";
import { fieldAtPoint } from "./field-of-sources.js";
import type { BlockSource, Vector3 } from "./source.js";

const block: BlockSource = {
  kind: "block",
  center_m: [0, 0, 0],
  size_m: [0.02, 0.03, 0.01],
  remanence_T: [0.3, -0.5, 0.8],
};
const differs = (a: ArrayLike<number>, b: ArrayLike<number>) => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

describe("block magnet", () => {
  it("at the centre of a cube B is two thirds of mu0 M: its demagnetising factor is 1/3", () => {
    const b = fieldAtPoint([{ ...block, size_m: [0.02, 0.02, 0.02] }], [0, 0, 0]);
    expect(differs(b, [0.2, -1 / 3, 1.6 / 3])).toBeLessThan(1e-15);
  });

  it("eight parts make the whole, inside, outside and far", () => {
    const parts = [-1, 1].flatMap((i) =>
      [-1, 1].flatMap((j) =>
        [-1, 1].map(
          (k): BlockSource => ({
            ...block,
            center_m: [i * 0.005, j * 0.0075, k * 0.0025],
            size_m: [0.01, 0.015, 0.005],
          }),
        ),
      ),
    );
    for (const point of [
      [0.003, 0.004, 0.001],
      [0.02, 0.01, -0.03],
      [0.1, 0.1, 0.05],
      [3, 1, 2],
    ] as const) {
      const whole = fieldAtPoint([block], point);
      expect(differs(whole, fieldAtPoint(parts, point)) / Math.hypot(...whole)).toBeLessThan(2e-13);
    }
  });

  it("the normal component is continuous through a face; on it stands the side of larger coordinate", () => {
    const at = (x: number) => fieldAtPoint([block], [x, 0.004, 0.002]);
    const [below, on, above] = [at(0.01 - 1e-12), at(0.01), at(0.01 + 1e-12)];
    expect(Math.abs(below[0] - above[0])).toBeLessThan(1e-9);
    expect(differs(on, above)).toBeLessThan(1e-9);
    // The tangential part jumps by mu0 M.
    expect(below[2] - above[2]).toBeCloseTo(0.8, 9);
  });

  it("is regular on face planes and on lines that extend edges", () => {
    const points: readonly Vector3[] = [
      [0.01, 0.03, 0.004],
      [0.01, 0.015, 0.02],
      [0.03, 0.015, 0.005],
      [0, 0.05, 0.005],
    ];
    for (const p of points) {
      const near = fieldAtPoint([block], [p[0] + 1e-10, p[1] - 1e-10, p[2] + 1e-10]);
      expect(differs(fieldAtPoint([block], p), near)).toBeLessThan(1e-6);
    }
  });

  it("has no step where dipoles take over, and is a dipole far away", () => {
    const bound = Math.hypot(0.01, 0.015, 0.005);
    for (const ratio of [8, 32, 150]) {
      const toward = [0.6, 0.48, 0.64].map((part) => part * ratio * bound);
      const [inside, outside] = [1 - 1e-13, 1 + 1e-13].map((factor) => {
        const [x, y, z] = toward.map((part) => part * factor);
        return fieldAtPoint([block], [x, y, z]);
      });
      // The field itself changes by 6e-13 between the two points; the closed form is good to 1e-12 there.
      expect(differs(inside, outside) / Math.hypot(...inside)).toBeLessThan(2e-12);
    }
    const axial = fieldAtPoint([{ ...block, remanence_T: [0, 0, 1] }], [0, 0, 50])[2];
    expect(axial / (6e-6 / (2 * Math.PI * 50 ** 3))).toBeCloseTo(1, 6);
  });

  it("a turned block turns its field", () => {
    const turned: BlockSource = {
      ...block,
      edges: [
        [0, 1, 0],
        [-1, 0, 0],
        [0, 0, 1],
      ],
      remanence_T: [0.5, 0.3, 0.8],
    };
    const [x, y, z] = fieldAtPoint([block], [0.03, 0.01, 0.02]);
    expect(differs(fieldAtPoint([turned], [-0.01, 0.03, 0.02]), [-y, x, z])).toBeLessThan(1e-16);
  });
});
