import { describe, expect, it } from "vitest";
import { vacuumPermeability_T_m_per_A as mu0 } from "../../units/index.js";
import type { FieldFunction } from "../sources/source.js";
import { conductorMaterials } from "./conductors.js";
import { ownField_T_per_A } from "./own-field.js";
import type { Coil, Winding } from "./winding.js";

const stack: Winding = {
  shape: {
    kind: "coil-stack",
    center_m: [0, 0, 0],
    normal: [0, 0, 1],
    innerRadius_m: 0.04,
    outerRadius_m: 0.06,
    length_m: 1,
  },
  turns: 500,
  material: conductorMaterials.copper,
  conductor: { fillFactor: 0.5 },
};
const coil: Coil = { windings: [stack] };

const fieldBy =
  (at: (x: number, y: number) => readonly [number, number, number]): FieldFunction =>
  (points) =>
    Float64Array.from(Array.from({ length: points.length / 3 }, (_, i) => at(points[3 * i], points[3 * i + 1])).flat());

describe("field across the wire of a winding", () => {
  it("of an endless winding falls linearly through it: ⟨B²⟩ = B0²·∫(Ro − r)²·r dr/((Ro − Ri)²·∫r dr)", () => {
    const inside = mu0 * 500;
    const endless = fieldBy((x, y) => [0, 0, (inside * (0.06 - Math.hypot(x, y))) / 0.02]);
    // ∫(Ro − r)²·r dr over the width w = Ro·w³/3 − w⁴/4; ∫r dr = (Ro² − Ri²)/2.
    const share = ((0.06 * 0.02 ** 3) / 3 - 0.02 ** 4 / 4) / (0.02 ** 2 * ((0.06 ** 2 - 0.04 ** 2) / 2));
    expect(ownField_T_per_A(coil, endless)[0] / (inside * Math.sqrt(share))).toBeCloseTo(1, 12);
  });
  it("leaves out what runs along the wire, and halves a uniform field across the axis", () => {
    const lengthwise = fieldBy((x, y) => [-y / Math.hypot(x, y), x / Math.hypot(x, y), 0]);
    expect(ownField_T_per_A(coil, lengthwise)[0]).toBeLessThan(1e-7);
    const across = fieldBy(() => [1, 0, 0]);
    expect(ownField_T_per_A(coil, across)[0]).toBeCloseTo(Math.SQRT1_2, 12);
  });
  it("refuses filaments, which have no section", () => {
    const loop = { ...stack, shape: { kind: "loop", center_m: [0, 0, 0], normal: [0, 0, 1], radius_m: 0.1 } } as const;
    expect(() =>
      ownField_T_per_A(
        { windings: [loop] },
        fieldBy(() => [0, 0, 0]),
      ),
    ).toThrow(/a loop/);
  });
});
