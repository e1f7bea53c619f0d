import { describe, expect, it } from "vitest";
import { langevin } from "../particle/langevin.js";
import { cosineDrive } from "../signal/periodic-field.js";
import { debyeFactor } from "./debye.js";
import { fieldDependentMagnetisation } from "./field-dependent.js";
import {
  alternatingFieldTime,
  fittedParallelTime,
  fittedTransverseTime,
  parallelTime,
  transverseTime,
} from "./field-dependent-times.js";
import { waveformHarmonic } from "./fokker-planck-harmonics.js";

const laws = { alternatingFieldTime, parallelTime, transverseTime, fittedParallelTime, fittedTransverseTime };

describe("times in a field", () => {
  it.each(Object.entries(laws))("%s is 1 without a field, even, and falls", (_name, law) => {
    expect(Math.abs(law(0) - 1)).toBeLessThan(1e-15);
    expect(law(-7)).toBe(law(7));
    for (let xi = 0; xi < 100; xi += 0.5) expect(law(xi + 0.5)).toBeLessThan(law(xi));
  });

  it("worked values of the printed forms", () => {
    expect(alternatingFieldTime(1)).toBeCloseTo(1 / Math.sqrt(1.126), 15);
    expect(alternatingFieldTime(10)).toBeCloseTo(1 / Math.sqrt(1 + 0.126 * 52.48074602497726), 14); // 10^1.72
    // xi = 1: L' / L and 2L/(1 - L) with the printed L, L' of the handbook.
    expect(Math.abs(parallelTime(1) - 0.275938339034 / 0.313035285499)).toBeLessThan(2e-11);
    expect(Math.abs(transverseTime(1) - 0.626070570998 / 0.686964714501)).toBeLessThan(2e-11);
    expect(fittedParallelTime(10)).toBeCloseTo(1 / Math.sqrt(22), 15);
    expect(fittedTransverseTime(10)).toBeCloseTo(1 / Math.sqrt(8), 15);
  });

  it("strong fields: 1/xi along, 2/xi across", () => {
    expect(parallelTime(1e6) * 1e6).toBeCloseTo(1, 5);
    expect(transverseTime(1e6) * 1e6).toBeCloseTo(2, 5);
  });

  it("the fitted forms agree with the effective field below xi 1, and not above", () => {
    for (const xi of [0.1, 0.5, 1]) {
      expect(Math.abs(fittedParallelTime(xi) / parallelTime(xi) - 1)).toBeLessThan(0.04);
      expect(Math.abs(fittedTransverseTime(xi) / transverseTime(xi) - 1)).toBeLessThan(0.07);
    }
    expect(fittedParallelTime(5) / parallelTime(5)).toBeGreaterThan(1.5);
    expect(fittedTransverseTime(5) / transverseTime(5)).toBeGreaterThan(1.5);
  });
});

describe("fieldDependentMagnetisation", () => {
  const unit = cosineDrive(1, 1 / (2 * Math.PI));

  it.each(["peak", "instantaneous", "instantaneous-fit"] as const)(
    "%s: linear and quasi-static limits",
    (dependence) => {
      const small = fieldDependentMagnetisation(unit, { xiPerTesla: 1e-3, brownTime_s: 1 }, { dependence });
      const { amplitude, phase_rad } = waveformHarmonic(small.magnetisation, 1);
      const linear = debyeFactor(1);
      // The time changes by 0.063 xi^1.72 = 4e-7 of itself.
      expect(Math.abs((3e3 * amplitude) / linear.amplitude - 1)).toBeLessThan(1e-6);
      expect(Math.abs(phase_rad + linear.lag_rad)).toBeLessThan(1e-6);
      const fast = fieldDependentMagnetisation(unit, { xiPerTesla: 20, brownTime_s: 1e-6 }, { dependence });
      expect(fast.outcome).toBe("converged");
      // Behind by at most tau dM/dt = 1e-6 * 20/3.
      for (const [k, m] of fast.magnetisation.entries())
        expect(Math.abs(m - langevin(20 * Math.cos((2 * Math.PI * k) / 256)))).toBeLessThan(7e-6);
    },
  );

  it("keeps a constant field's magnetisation", () => {
    const still = { period_s: 1, field_T: () => 2 };
    const found = fieldDependentMagnetisation(
      still,
      { xiPerTesla: 1, brownTime_s: 10 },
      { dependence: "instantaneous", samples: 8 },
    );
    for (const m of found.magnetisation) expect(Math.abs(m - langevin(2))).toBeLessThan(1e-13);
  });

  it("refuses what has no meaning", () => {
    expect(() =>
      fieldDependentMagnetisation(unit, { xiPerTesla: 1, brownTime_s: 0 }, { dependence: "instantaneous" }),
    ).toThrow(/brownTime_s/);
    expect(() =>
      fieldDependentMagnetisation(
        unit,
        { xiPerTesla: 1, brownTime_s: 1 },
        { dependence: "instantaneous", samples: 1.5 },
      ),
    ).toThrow(/samples/);
  });
});
