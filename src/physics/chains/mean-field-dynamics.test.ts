import { describe, expect, it } from "vitest";
import { cosineDrive, pulsedDrive, sampleField } from "../signal/periodic-field.js";
import { chainHistory } from "./chain-magnetisation.js";
import { implicitStep } from "./implicit-step.js";
import { meanFieldDynamics } from "./mean-field-dynamics.js";
import { spinodal } from "./spinodal.js";

const one = { xiPerTesla: Float64Array.of(1000), weight: Float64Array.of(1) };
const drive = cosineDrive(5e-3, 25e3); // xi up to 5
const atOmegaTau = (omegaTau: number) => omegaTau / (2 * Math.PI * 25e3);

/** Field, in xi, at which a falling cosine takes M through zero. */
function coerciveXi(magnetisation: Float64Array): number {
  const n = magnetisation.length;
  for (let i = 0; i < n / 2; i++)
    if (magnetisation[i] > 0 && magnetisation[i + 1] <= 0) {
      const at = i + magnetisation[i] / (magnetisation[i] - magnetisation[i + 1]);
      return -5 * Math.cos((2 * Math.PI * at) / n);
    }
  return Number.NaN;
}

describe("mean-field chain under a drive", () => {
  it("follows the quasi-static loop when slow", () => {
    const { magnetisation, outcome } = meanFieldDynamics(drive, one, {
      kappa: 6,
      relaxationTime_s: atOmegaTau(1e-7),
      samples: 64,
    });
    const fields = sampleField(drive, 64);
    const loop = chainHistory(Float64Array.of(...fields, ...fields), one, { kappa: 6, start: "upper" }).subarray(64);
    expect(outcome).toBe("converged");
    // The lag is omega tau dM/dtheta, 1e-6 at most off the jump, and no sample falls into the jump.
    for (let i = 0; i < 64; i++) expect(Math.abs(magnetisation[i] - loop[i])).toBeLessThan(2e-6);
  });

  it("turns later the faster it is driven", () => {
    const fields = [1e-4, 1e-3, 0.01, 0.1, 0.3].map((omegaTau) => {
      const options = { kappa: 6, relaxationTime_s: atOmegaTau(omegaTau), samples: 2048 };
      return coerciveXi(meanFieldDynamics(drive, one, options).magnetisation);
    });
    expect(fields[0]).toBeGreaterThan(spinodal(6)?.coerciveXi ?? 0);
    for (let i = 1; i < fields.length; i++) expect(fields[i]).toBeGreaterThan(fields[i - 1]);
  });

  it("is a low pass of the first order for small signals without hysteresis", () => {
    // Linear: M = xi0/(3 - kappa) cos(theta - phi)/sqrt(1 + w^2), tan phi = w = omega tau 3/(3 - kappa).
    const weak = cosineDrive(1e-6, 25e3);
    const [kappa, omegaTau] = [1.5, 0.4];
    const { magnetisation: m } = meanFieldDynamics(weak, one, {
      kappa,
      relaxationTime_s: atOmegaTau(omegaTau),
      samples: 16,
      tolerance: 1e-13,
    });
    const w = (3 * omegaTau) / (3 - kappa);
    const amplitude = 1e-3 / (3 - kappa) / Math.hypot(1, w);
    for (let k = 0; k < 16; k++) {
      const expected = amplitude * Math.cos((2 * Math.PI * k) / 16 - Math.atan(w));
      // Third-order response is (xi0)^2 = 1e-6 of the first.
      expect(Math.abs(m[k] - expected)).toBeLessThan(2e-6 * amplitude);
    }
  });

  it("keeps its side when the drive is too weak to turn it, and their mean when demagnetised", () => {
    const weak = cosineDrive(1e-3, 25e3);
    const m = (start: "upper" | "lower" | "demagnetised") =>
      meanFieldDynamics(weak, one, { kappa: 6, relaxationTime_s: atOmegaTau(0.1), samples: 16, start }).magnetisation;
    const [up, down, both] = [m("upper"), m("lower"), m("demagnetised")];
    expect(Math.min(...up)).toBeGreaterThan(0.6);
    for (let i = 0; i < 16; i++) {
      expect(down[i]).toBeCloseTo(-up[(i + 8) % 16], 8);
      expect(both[i]).toBeCloseTo((up[i] + down[i]) / 2, 14);
    }
  });

  it("settles for relaxation far slower than the period, and for pulses with steep edges", () => {
    const slow = meanFieldDynamics(drive, one, { kappa: 2, relaxationTime_s: atOmegaTau(1e3), samples: 16 });
    expect(slow.outcome).toBe("converged");
    expect(slow.detail.periods).toBeLessThan(300);
    const pulses = pulsedDrive(5e-3, 25e3, { riseTime_s: 1e-7 });
    const { magnetisation, outcome } = meanFieldDynamics(pulses, one, {
      kappa: 6,
      relaxationTime_s: atOmegaTau(0.02),
      samples: 16,
    });
    expect(outcome).toBe("converged");
    expect(magnetisation[0]).toBeCloseTo(-magnetisation[8], 8);
  });

  it("refuses a time, a number of samples or a tolerance that cannot be", () => {
    const run = (change: object) => () =>
      meanFieldDynamics(drive, one, { kappa: 2, relaxationTime_s: 1e-6, samples: 16, ...change });
    expect(run({ relaxationTime_s: 0 })).toThrow(/at relaxationTime_s/);
    expect(run({ samples: 3 })).toThrow(/at samples/);
    expect(run({ tolerance: 1 })).toThrow(/at tolerance/);
    expect(run({ kappa: -1 })).toThrow(/at coupling/);
  });
});

describe("implicit step", () => {
  it("is of order 4: a halved step gives a sixteenth of the error", () => {
    // dM/dt = -M^2 + cos t has no closed form; M' = -M cos t does: M = exp(-sin t).
    const rate = (time_s: number, m: number) => ({ rate: -m * Math.cos(time_s), slope: -Math.cos(time_s) });
    const error = (steps: number) => {
      let m = 1;
      for (let k = 0; k < steps; k++) m = implicitStep(rate, [(2 * k) / steps, m], 2 / steps)?.value ?? Number.NaN;
      return Math.abs(m - Math.exp(-Math.sin(2)));
    };
    expect(error(20) / error(40)).toBeGreaterThan(13);
    expect(error(20) / error(40)).toBeLessThan(19);
  });

  it("swallows stiffness: a fast decay is over after one step", () => {
    const rate = (_: number, m: number) => ({ rate: -1e9 * (m - 0.5), slope: -1e9 });
    expect(implicitStep(rate, [0, 1], 1)?.value).toBeCloseTo(0.5, 7);
  });

  it("asks for a shorter step where the motion runs away faster than it", () => {
    const rate = (_: number, m: number) => ({ rate: 100 * m, slope: 100 });
    expect(implicitStep(rate, [0, 1], 1)).toBeUndefined();
    expect(implicitStep(rate, [0, 1], 1e-3)?.value).toBeCloseTo(Math.exp(0.1), 6);
  });
});
