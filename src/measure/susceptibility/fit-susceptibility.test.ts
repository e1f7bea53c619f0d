import { describe, expect, it } from "vitest";
import { stream } from "../../numerics/index.js";
import { brownTime_s } from "../../physics/index.js";
import { fitSusceptibility } from "./fit-susceptibility.js";
import type { AcSusceptibility } from "./susceptibility.js";
import { brownSusceptibility, debyeSusceptibility } from "./susceptibility-model.js";

const liquid = { viscosity_Pa_s: 0.89e-3, temperature_K: 300 };
const band = (from: number, to: number, n = 30) =>
  Float64Array.from({ length: n }, (_, i) => from * (to / from) ** (i / (n - 1)));

function chiOf(frequency_Hz: Float64Array, stacked: Float64Array, { noise = 0, seed = 1 } = {}): AcSusceptibility {
  const n = frequency_Hz.length;
  const source = stream(seed);
  const noisy = stacked.map((value) => value + noise * source.normal());
  return {
    name: "invented",
    frequency_Hz,
    real: noisy.slice(0, n),
    imaginary: noisy.slice(n),
    sigmaReal: new Float64Array(n).fill(noise || 1e-4),
    sigmaImaginary: new Float64Array(n).fill(noise || 1e-4),
    unit: "1",
    basis: "per-sample-volume",
    fieldAmplitude_T: 1e-4,
    ...liquid,
    assumptions: [],
    findings: [],
  };
}

describe("models", () => {
  it("are chi_0/2 in both parts at w tau = 1 (facts R4)", () => {
    const one = debyeSusceptibility(Float64Array.of(1 / (2 * Math.PI)), {
      static: 1,
      highFrequency: 0,
      relaxationTime_s: 1,
    });
    expect(one[0]).toBeCloseTo(0.5, 15);
    expect(one[1]).toBeCloseTo(0.5, 15);
  });
  it("agree for one size, and have the Brown time of the facts", () => {
    // 0.89 mPa.s, 300 K, 40 nm: pi eta d^3/(2 kB T) with kB = 1.380649e-23
    const time_s = brownTime_s(40e-9, liquid.viscosity_Pa_s, liquid.temperature_K);
    expect(time_s).toBeCloseTo((Math.PI * 0.89e-3 * 6.4e-23) / (2 * 1.380649e-23 * 300), 15);
    const f = band(10, 1e5);
    const debye = debyeSusceptibility(f, { static: 1, highFrequency: 0.1, relaxationTime_s: time_s });
    for (const logSd of [0, 1e-4]) {
      const brown = brownSusceptibility(f, { static: 1, highFrequency: 0.1, medianTime_s: time_s, logSd });
      for (const [i, value] of debye.entries()) expect(Math.abs(brown[i] - value)).toBeLessThan(1e-7);
    }
  });
  it("keep the area under the loss peak whatever the width (Kramers-Kronig: pi/2 (chi_0 - chi_inf))", () => {
    const f = band(1e-4, 1e10, 4001);
    const step = Math.log(f[1] / f[0]);
    for (const logSd of [0.05, 0.3, 0.8]) {
      const chi = brownSusceptibility(f, { static: 1.1, highFrequency: 0.1, medianTime_s: 1e-4, logSd });
      const area = chi.subarray(4001).reduce((sum, value) => sum + value, 0) * step;
      // beyond the ends chi'' is <w tau> and <1/(w tau)>, each with a factor exp((3 s)^2 / 2)
      const growth = Math.exp((3 * logSd) ** 2 / 2);
      const tails = growth * (2 * Math.PI * 1e-4 * 1e-4 + 1 / (2 * Math.PI * 1e10 * 1e-4));
      expect(area + tails).toBeCloseTo(Math.PI / 2, 7);
    }
  });
});

describe("fitSusceptibility", () => {
  const f = band(10, 1e5);
  it("finds either model again", () => {
    const debye = chiOf(f, debyeSusceptibility(f, { static: 1, highFrequency: 0.1, relaxationTime_s: 1e-4 }));
    const one = fitSusceptibility(debye, { model: "debye" });
    for (const [j, expected] of [1, 0.1, 1e-4].entries()) expect(one.parameters[j].value / expected).toBeCloseTo(1, 7);
    expect(one.derived[0].value).toBeCloseTo(1 / (2 * Math.PI * 1e-4), 3);
    const medianTime_s = brownTime_s(60e-9, liquid.viscosity_Pa_s, liquid.temperature_K);
    const brown = chiOf(f, brownSusceptibility(f, { static: 1, highFrequency: 0.1, medianTime_s, logSd: 0.2 }));
    const many = fitSusceptibility(brown, { model: "brown-log-normal" });
    for (const [j, expected] of [1, 0.1, 60e-9, 0.2].entries())
      expect(many.parameters[j].value / expected).toBeCloseTo(1, 6);
    expect(many.parameters.map(({ name }) => name)).toEqual([
      "static-susceptibility",
      "high-frequency-susceptibility",
      "median-hydrodynamic-diameter",
      "log-sd-hydrodynamic",
    ]);
  });
  it("sees that one time is not enough", () => {
    const medianTime_s = brownTime_s(60e-9, liquid.viscosity_Pa_s, liquid.temperature_K);
    const chi = chiOf(f, brownSusceptibility(f, { static: 1, highFrequency: 0.1, medianTime_s, logSd: 0.3 }), {
      noise: 0.01,
    });
    const codes = fitSusceptibility(chi, { model: "debye" }).advisories.map(({ code }) => code);
    expect(codes).toContain("correlated-residuals");
    expect(codes).toContain("sigma-too-small");
  });
  it("says which parameters float when the band misses the loss peak", () => {
    const low = band(10, 100);
    const chi = chiOf(low, debyeSusceptibility(low, { static: 1, highFrequency: 0.1, relaxationTime_s: 1e-5 }), {
      noise: 1e-3,
    });
    const fit = fitSusceptibility(chi, { model: "debye" });
    const said = fit.advisories.filter(({ code }) => code === "not-identifiable").map(({ message }) => message);
    expect(said.join(" ")).toMatch(/high-frequency/);
  });
  it("asks for viscosity and temperature by name, for hydrodynamic diameters only", () => {
    const chi = chiOf(f, debyeSusceptibility(f, { static: 1, highFrequency: 0.1, relaxationTime_s: 1e-4 }));
    const bare = { ...chi, viscosity_Pa_s: undefined, temperature_K: undefined };
    expect(fitSusceptibility(bare, { model: "debye" }).outcome).toBe("converged");
    expect(() => fitSusceptibility(bare, { model: "brown-log-normal" })).toThrow('"viscosity"');
    expect(() => fitSusceptibility({ ...bare, viscosity_Pa_s: 1e-3 }, { model: "brown-log-normal" })).toThrow(
      '"temperature"',
    );
  });
});
