import { describe, expect, it } from "vitest";
import { vacuumPermeability_T_m_per_A as mu0 } from "../../units/index.js";
import { fieldAtPoint } from "./field-of-sources.js";
import type { LoopSource } from "./source.js";
import { vectorPotentialOfSources } from "./vector-potential.js";

const loop: LoopSource = { kind: "loop", center_m: [0, 0, 0], normal: [0, 0, 1], radius_m: 0.1, current_A: 100 };

describe("circular loop", () => {
  it("on the axis: mu0 I a²/(2 (a² + z²)^(3/2)), facts L1, along the normal", () => {
    for (const z of [0, 0.03, -0.2, 1e4]) {
      const [x, y, axial] = fieldAtPoint([loop], [0, 0, z]);
      expect([x, y]).toEqual([0, 0]);
      expect(axial / ((mu0 * 100 * 0.01) / (2 * (0.01 + z * z) ** 1.5))).toBeCloseTo(1, 14);
    }
  });

  it("is mirror-symmetric: B_z even, B_rho odd in z; no B_rho in its plane", () => {
    const above = fieldAtPoint([loop], [0.07, 0, 0.04]);
    const below = fieldAtPoint([loop], [0.07, 0, -0.04]);
    expect(above[2]).toBe(below[2]);
    expect(above[0]).toBe(-below[0]);
    expect(fieldAtPoint([loop], [0.07, 0, 0])[0]).toBe(0);
  });

  it("a flipped normal or current flips the field", () => {
    const there = [0.03, -0.05, 0.08] as const;
    const flipped = fieldAtPoint([{ ...loop, normal: [0, 0, -1] }], there);
    expect([...flipped]).toEqual([...fieldAtPoint([{ ...loop, current_A: -100 }], there)]);
  });

  it("beside the wire it is that of a straight wire, mu0 I/(2 pi d)", () => {
    const d = 1e-9;
    const field = Math.hypot(...fieldAtPoint([loop], [0.1 + d, 0, 0]));
    expect(field / ((mu0 * 100) / (2 * Math.PI * d))).toBeCloseTo(1, 6);
  });

  it("has no value on the wire", () => {
    expect(fieldAtPoint([loop], [0.1, 0, 0]).every(Number.isNaN)).toBe(true);
    const potential = vectorPotentialOfSources([loop])(Float64Array.of(0.1, 0, 0));
    expect(potential[1]).toBe(Number.POSITIVE_INFINITY);
  });
});
