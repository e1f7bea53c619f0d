import { describe, expect, it } from "vitest";
import { vacuumPermeability_T_m_per_A as mu0 } from "../../units/index.js";
import {
  helmholtzFieldFormula,
  loopFieldFormula,
  maxwellGradientFormula,
  solenoidFieldFormula,
} from "./coil-formulas.js";
import { fieldAtPoint } from "./field-of-sources.js";
import { gradientOfSources } from "./gradient-of-sources.js";
import type { LoopSource } from "./source.js";

const loop = (height_m: number, current_A: number): LoopSource => ({
  kind: "loop",
  center_m: [0, 0, height_m],
  normal: [0, 0, 1],
  radius_m: 0.1,
  current_A,
});

describe("formulas of coils", () => {
  it("loop: facts W34", () => {
    const { axial, radial, magnitude } = loopFieldFormula.compute({ radius: 0.1, current: 100, rho: 0.05, z: 0.05 });
    expect(axial).toBeCloseTo(4.3458489e-4, 11);
    expect(radial).toBeCloseTo(1.6168908e-4, 11);
    expect(magnitude).toBe(Math.hypot(axial, radial));
  });

  it("Helmholtz and Maxwell pairs equal their two loops", () => {
    const inputs = { radius: 0.1, turns: 20, current: 5 };
    const field = fieldAtPoint([loop(0.05, 100), loop(-0.05, 100)], [0, 0, 0])[2];
    expect(helmholtzFieldFormula.compute(inputs).field / field).toBeCloseTo(1, 14);
    const height = (Math.sqrt(3) / 2) * 0.1;
    const g = gradientOfSources([loop(height, 100), loop(-height, -100)], [0, 0, 0]);
    const { axial, transverse } = maxwellGradientFormula.compute(inputs);
    expect(axial / g[8]).toBeCloseTo(1, 11);
    expect(transverse / g[0]).toBeCloseTo(1, 11);
  });

  it("solenoid: mu0 N I/√(L² + 4R²) at the centre, half of mu0 n I at the end of a long one", () => {
    const centre = solenoidFieldFormula.compute({ length: 0.2, radius: 0.05, turns: 200, current: 1, z: 0 });
    expect(centre.field / ((mu0 * 200) / Math.hypot(0.2, 0.1))).toBeCloseTo(1, 14);
    const end = solenoidFieldFormula.compute({ length: 100, radius: 0.05, turns: 200, current: 1, z: 50 });
    expect(end.field / ((mu0 * 2) / 2)).toBeCloseTo(1, 6);
  });
});
