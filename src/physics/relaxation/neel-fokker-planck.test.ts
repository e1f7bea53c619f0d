import { describe, expect, it } from "vitest";
import { finishSteps, solveSquare, stream } from "../../numerics/index.js";
import { langevin } from "../particle/langevin.js";
import { cosineDrive, pulsedDrive } from "../signal/periodic-field.js";
import { bandedLu, factorBand, solveBand } from "./banded-lu.js";
import { brownianMagnetisation } from "./brownian-fokker-planck.js";
import { fixedAxisEquilibrium, parallelAxesEquilibrium, randomAxesEquilibrium } from "./fixed-axes-equilibrium.js";
import { waveformHarmonic } from "./fokker-planck-harmonics.js";
import type { LinearMotion } from "./linear-motion.js";
import { exactNeelTime_s } from "./neel-eigenvalue.js";
import { neelMagnetisation } from "./neel-fokker-planck.js";
import { neelAtAngle, neelRandomAxes, neelRandomAxesSteps } from "./neel-random-axes.js";
import { largestDifference } from "./periodic-closure.js";
import { rosenbrockNodes, rosenbrockSteps } from "./rosenbrock-steps.js";

const unit = cosineDrive(1, 1 / (2 * Math.PI));

describe("banded LU", () => {
  it("solves as a dense solver does, rows exchanged where they must be", () => {
    const [n, b] = [12, 3];
    const random = stream(11, 0, 0);
    const lu = bandedLu(n, b);
    const dense = new Float64Array(n * n);
    for (let i = 0; i < n; i++)
      for (let j = Math.max(0, i - b); j <= Math.min(n - 1, i + b); j++) {
        const value = i === j ? 1e-6 * random.normal() : random.normal(); // small pivots
        dense[i * n + j] = value;
        lu.band[i * (3 * b + 1) + j - i + b] = value;
      }
    const right = Float64Array.from({ length: n }, () => random.normal());
    const x = Float64Array.from(right);
    factorBand(lu);
    solveBand(lu, x);
    expect([...lu.pivot].some((row, k) => row !== k)).toBe(true);
    const expected = solveSquare(dense, right) ?? new Float64Array(n);
    expect(largestDifference(x, expected)).toBeLessThan(1e-11);
  });
});

describe("rosenbrockSteps", () => {
  /** dc/dt = -rate c + xi(t), one unknown. */
  const scalar = (rate: number): LinearMotion => ({
    size: 1,
    halfBand: 0,
    a0: Float64Array.of(-rate),
    a1: Float64Array.of(0),
    g0: Float64Array.of(0),
    g1: Float64Array.of(1),
    observed: Float64Array.of(1),
    parity: Float64Array.of(-1),
    edge: [],
  });
  const end = (rate: number, count: number): number => {
    const h = 2 / count;
    const nodes = rosenbrockNodes.length;
    const stageXi = Float64Array.from({ length: count * nodes }, (_, i) =>
      Math.cos((Math.floor(i / nodes) + rosenbrockNodes[i % nodes]) * h),
    );
    const state = Float64Array.of(0.5);
    return finishSteps(rosenbrockSteps(scalar(rate), state, { stageXi, step_s: new Float64Array(count).fill(h) }))
      .trace[count - 1];
  };
  const exact = (rate: number) => {
    const forced = (t: number) => (rate * Math.cos(t) + Math.sin(t)) / (rate * rate + 1);
    return forced(2) + (0.5 - forced(0)) * Math.exp(-rate * 2);
  };

  it("is of order 4", () => {
    const order = Math.log2(Math.abs((end(3, 20) - exact(3)) / (end(3, 40) - exact(3))));
    expect(order).toBeGreaterThan(3.7);
    expect(order).toBeLessThan(4.5);
    expect(Math.abs(end(3, 400) - exact(3))).toBeLessThan(1e-11);
  });

  it("follows the field where it is stiff", () => {
    expect(Math.abs(1e9 * end(1e9, 20) - Math.cos(2))).toBeLessThan(1e-4);
  });
});

describe("neelMagnetisation", () => {
  it("without a barrier is Brownian rotation with tau_N0, and does not know its axis", () => {
    const brown = brownianMagnetisation(unit, { xiPerTesla: 5, brownTime_s: 0.7 }, { samples: 32 });
    const core = { xiPerTesla: 5, barrier: 0, freeTime_s: 0.7 };
    expect(
      largestDifference(neelMagnetisation(unit, core, { samples: 32 }).magnetisation, brown.magnetisation),
    ).toBeLessThan(2e-7);
    const oblique = neelAtAngle(unit, { ...core, cosAngle: 0.3 }, { samples: 32 });
    expect(largestDifference(oblique.magnetisation, brown.magnetisation)).toBeLessThan(2e-6);
  });

  it("small fields: one relaxation time, that of the exact eigenvalue, for a high barrier", () => {
    const sigma = 12;
    const tau = exactNeelTime_s(sigma, 1);
    const slow = { period_s: 2 * Math.PI * tau, field_T: (t: number) => Math.cos(t / tau) };
    const { magnetisation } = neelMagnetisation(slow, { xiPerTesla: 1e-3, barrier: sigma, freeTime_s: 1 });
    const { amplitude, phase_rad } = waveformHarmonic(magnetisation, 1);
    // Crossing carries all but 1/(4 sigma^2) of the response; w tau = 1.
    expect(Math.abs(phase_rad + Math.PI / 4)).toBeLessThan(5e-3);
    const still = parallelAxesEquilibrium(1e-3, sigma);
    expect(Math.abs(amplitude / (still * Math.SQRT1_2) - 1)).toBeLessThan(5e-3);
  });

  it("slow drives follow the static curve of the axis", () => {
    const slow = cosineDrive(1, 1e-6);
    const { magnetisation } = neelMagnetisation(slow, { xiPerTesla: 4, barrier: 3, freeTime_s: 1 }, { samples: 16 });
    for (const [k, m] of magnetisation.entries())
      expect(Math.abs(m - parallelAxesEquilibrium(4 * Math.cos((2 * Math.PI * k) / 16), 3))).toBeLessThan(1e-4);
  });

  it("a core that never crosses stays half up, half down, and wobbles within its wells", () => {
    const core = { xiPerTesla: 9, barrier: 60, freeTime_s: 1e-4 };
    const { magnetisation, outcome } = neelMagnetisation(unit, core, { samples: 16 });
    expect(outcome).toBe("converged");
    // Each well alone: <x> = +-(1 - 1/(2 sigma +- xi)); their mean is xi/(4 sigma^2 - xi^2), to order 1/sigma of itself.
    const wells = 9 / (4 * 60 * 60 - 81);
    expect(Math.abs(magnetisation[0] / wells - 1)).toBeLessThan(0.08);
    expect(magnetisation[8]).toBe(-magnetisation[0]);
  });

  it("takes pulses and bias, and says so when it ends early", () => {
    const pulses = pulsedDrive(1, 1 / (2 * Math.PI), { riseTime_s: 0.1 });
    const core = { xiPerTesla: 5, barrier: 4, freeTime_s: 0.05 };
    expect(neelMagnetisation(pulses, core).outcome).toBe("converged");
    const biased = cosineDrive(0.2, 1 / (2 * Math.PI), { bias_T: 0.2 });
    const mean = (m: Float64Array) => m.reduce((sum, value) => sum + value / m.length, 0);
    expect(mean(neelMagnetisation(biased, core).magnetisation)).toBeGreaterThan(0.1);
    // e^200 periods to the true mean: no closure can be trusted.
    const blocked = neelMagnetisation(biased, { ...core, barrier: 200 }, { samples: 8, tolerance: 1e-9 });
    expect([blocked.outcome, blocked.detail.errorEstimate]).toEqual(["iteration-limit", 1]);
  });

  it("refuses what has no meaning", () => {
    expect(() => neelMagnetisation(unit, { xiPerTesla: 5, barrier: 301, freeTime_s: 1 })).toThrow(/barrier: found 301/);
    expect(() => neelRandomAxes(unit, { xiPerTesla: 5, barrier: 61, freeTime_s: 1 })).toThrow(/from -30 to 60/);
    const core = { xiPerTesla: 5, barrier: 3, freeTime_s: 1 };
    expect(() => neelMagnetisation(unit, { ...core, freeTime_s: 0 })).toThrow(/freeTime_s/);
    expect(() => neelMagnetisation(unit, core, { tolerance: 1e-15 })).toThrow(/tolerance: found 1e-15/);
  });
});

describe("random axes", () => {
  it("slow drives follow the static mean; progress rises in small steps", () => {
    const slow = cosineDrive(1, 1e-6);
    const steps = neelRandomAxesSteps(
      slow,
      { xiPerTesla: 3, barrier: 2, freeTime_s: 1 },
      { samples: 8, angles: 6, tolerance: 1e-5 },
    );
    const fractions: number[] = [];
    let step = steps.next();
    while (!step.done) {
      fractions.push(step.value);
      step = steps.next();
    }
    expect(fractions).toEqual([...fractions].sort((a, b) => a - b));
    expect(fractions.length).toBeGreaterThan(6);
    for (const [k, m] of step.value.magnetisation.entries())
      expect(Math.abs(m - randomAxesEquilibrium(3 * Math.cos((2 * Math.PI * k) / 8), 2))).toBeLessThan(1e-4);
  });

  it("static curves: odd, Langevin without barrier, Ising along and cos^2 far out", () => {
    expect(randomAxesEquilibrium(-5, 10)).toBe(-randomAxesEquilibrium(5, 10));
    for (const cosAngle of [0, 0.4, 1])
      expect(Math.abs(fixedAxisEquilibrium(3, { barrier: 0, cosAngle }) - langevin(3))).toBeLessThan(1e-13);
    expect(Math.abs(parallelAxesEquilibrium(2, 200) - Math.tanh(2))).toBeLessThan(5e-3); // order 1/sigma
    // At small fields the axis does not matter on average: xi/3, whatever the barrier.
    expect(Math.abs(randomAxesEquilibrium(1e-3, 10) / (1e-3 / 3) - 1)).toBeLessThan(1e-6);
    expect(fixedAxisEquilibrium(5, { barrier: -3, cosAngle: 0 })).toBeGreaterThan(
      fixedAxisEquilibrium(5, { barrier: -3, cosAngle: 1 }),
    );
    expect(() => fixedAxisEquilibrium(5, { barrier: 1, cosAngle: 1.2 })).toThrow(/cosAngle/);
  });
});
