import { describe, expect, it } from "vitest";
import { vacuumPermeability_T_m_per_A as mu0 } from "../../units/index.js";
import { contributionSum_T } from "./field-of-sources.js";
import { gradientOfSources } from "./gradient-of-sources.js";
import type { BlockSource, LoopSource } from "./source.js";

const loop = (height_m: number, current_A: number): LoopSource => ({
  kind: "loop",
  center_m: [0, 0, height_m],
  normal: [0, 0, 1],
  radius_m: 0.1,
  current_A,
});

describe("gradient of sources", () => {
  it("Maxwell pair: facts L5 along, half of it across with the other sign (L6)", () => {
    const height = (Math.sqrt(3) / 2) * 0.1;
    const g = gradientOfSources([loop(height, 50), loop(-height, -50)], [0, 0, 0]);
    const axial = ((48 / 49) * Math.sqrt(3 / 7) * mu0 * 50) / 0.01;
    expect(g[8] / axial).toBeCloseTo(1, 11);
    expect(g[0] / axial).toBeCloseTo(-0.5, 11);
    expect(g[4] / axial).toBeCloseTo(-0.5, 11);
  });

  it("one loop on its axis: −3 mu0 I a² z/(2 (a² + z²)^(5/2)), within 1e-12 of |B|/distance", () => {
    for (const z of [0.01, 0.1, 0.7, 30]) {
      const expected = (-3 * mu0 * 100 * 0.01 * z) / (2 * (0.01 + z * z) ** 2.5);
      const g = gradientOfSources([loop(0, 100)], [0, 0, z]);
      const size = contributionSum_T([loop(0, 100)], [0, 0, z]) / Math.hypot(0.1, z);
      expect(Math.abs(g[8] - expected) / size).toBeLessThan(1e-12);
    }
  });

  it("is traceless and symmetric in free space, beside a wire too", () => {
    const block: BlockSource = {
      kind: "block",
      center_m: [0.2, 0, 0],
      size_m: [0.02, 0.03, 0.04],
      remanence_T: [0.2, 1, 0.4],
    };
    for (const x of [0.05, 0.0999, 0.17]) {
      const g = gradientOfSources([loop(0, 1e4), block], [x, 0.002, 0.001]);
      const size = Math.hypot(...g);
      expect(Math.abs(g[0] + g[4] + g[8]) / size).toBeLessThan(1e-11);
      expect(Math.hypot(g[1] - g[3], g[2] - g[6], g[5] - g[7]) / size).toBeLessThan(1e-11);
    }
  });

  it("has no value on a conductor", () => {
    expect(gradientOfSources([loop(0, 1)], [0.1, 0, 0]).some(Number.isNaN)).toBe(true);
  });
});
