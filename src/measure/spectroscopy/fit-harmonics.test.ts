import { describe, expect, it } from "vitest";
import { stream } from "../../numerics/index.js";
import type { TracerFit } from "../magnetometry/fit-result.js";
import { fitHarmonics } from "./fit-harmonics.js";
import type { HarmonicSpectrum } from "./harmonics.js";
import { type HarmonicRelaxation, harmonicResponse, harmonicsBlock } from "./harmonics-block.js";

const harmonic = Int32Array.of(1, 3, 5, 7, 9, 11, 13);

const blank: HarmonicSpectrum = {
  name: "invented",
  harmonic,
  moment: new Float64Array(14),
  hasPhase: true,
  unit: "1",
  basis: "arbitrary",
  driveAmplitude_T: 0.02,
  frequency_Hz: 25e3,
  biasField_T: 0,
  temperature_K: 300,
  coreSaturation_A_per_m: 446e3,
  medium: { viscosity_Pa_s: 0.89e-3 },
  assumptions: [],
  findings: [],
};

function spectrumOf(
  truth: readonly number[],
  relaxation: HarmonicRelaxation,
  { noise = 0, seed = 1, hasPhase = true } = {},
): HarmonicSpectrum {
  const response = harmonicResponse(blank, relaxation);
  const clean = harmonicsBlock(blank, relaxation, response).predict(Float64Array.from(truth), new Float64Array(14));
  const source = stream(seed);
  const moment = clean.map((value) => value + noise * source.normal());
  return { ...blank, moment, hasPhase, sigma: new Float64Array(7).fill(noise || 1e-6) };
}

const value = ({ parameters }: TracerFit, j: number) => parameters[j].value;
const codes = ({ advisories }: TracerFit) => advisories.map(({ code }) => code);

/** The Brownian fit, whose table takes seconds, is tested in checks/tracer-fit. */
describe("fitHarmonics", () => {
  it.each([
    ["none", [2, 18e-9, 0.15]],
    ["debye", [2, 18e-9, 0.15, 2e-6]],
  ] as const)("finds the tracer of an exact complex spectrum again, relaxation %s", (relaxation, truth) => {
    const fit = fitHarmonics(spectrumOf(truth, relaxation), { relaxation });
    expect(fit.outcome).toBe("converged");
    // the table's steps (1e-8) through a condition of some 100
    for (const [j, expected] of truth.entries()) expect(Math.abs(value(fit, j) / expected - 1)).toBeLessThan(1e-5);
  });
  it("does not mind the scale: arbitrary units", () => {
    const spectrum = spectrumOf([1, 18e-9, 0.15], "none", { noise: 1e-3 });
    const fit = fitHarmonics(spectrum, { relaxation: "none" });
    const scaled = fitHarmonics(
      { ...spectrum, moment: spectrum.moment.map((m) => 1e-9 * m), sigma: new Float64Array(7).fill(1e-12) },
      { relaxation: "none" },
    );
    expect(value(scaled, 0) / value(fit, 0) / 1e-9).toBeCloseTo(1, 6);
    expect(value(scaled, 1) / value(fit, 1)).toBeCloseTo(1, 6);
    expect(codes(fit)).toContain("precision-only");
  });
  it("knows relaxation far better with phases than without, and says so", () => {
    const truth = [1, 18e-9, 0.15, 2e-6];
    const complex = fitHarmonics(spectrumOf(truth, "debye", { noise: 1e-3 }), { relaxation: "debye" });
    const plain = fitHarmonics(spectrumOf(truth, "debye", { noise: 1e-3, hasPhase: false }), { relaxation: "debye" });
    const u = ({ parameters }: TracerFit) => parameters[3].standardUncertainty;
    expect(u(plain) > 10 * u(complex) || Number.isNaN(u(plain))).toBe(true);
    expect(codes(plain)).toContain("amplitude-only");
    expect(codes(complex)).not.toContain("amplitude-only");
  });
  it("asks for what it lacks by name", () => {
    const spectrum = spectrumOf([1, 18e-9, 0.15], "none");
    const without = (key: string) => ({ ...spectrum, [key]: undefined });
    expect(() => fitHarmonics(without("coreSaturation_A_per_m"), { relaxation: "none" })).toThrow('"coreSaturation"');
    expect(() => fitHarmonics(without("temperature_K"), { relaxation: "none" })).toThrow('"temperature"');
    expect(() => fitHarmonics(without("medium"), { relaxation: "brownian" })).toThrow('"viscosity"');
    const few = { ...spectrum, harmonic: Int32Array.of(3), moment: Float64Array.of(1, 0), sigma: Float64Array.of(0.1) };
    expect(() => fitHarmonics(few, { relaxation: "none" })).toThrow("at least 4 values");
  });
});
