import { describe, expect, it } from "vitest";
import { stream } from "../../numerics/index.js";
import type { MagnetisationCurve } from "../magnetometry/curve.js";
import { fitLogNormal } from "../magnetometry/log-normal-fit.js";
import { logNormalCurve } from "../magnetometry/log-normal-model.js";
import type { HarmonicSpectrum } from "../spectroscopy/harmonics.js";
import { harmonicsBlock } from "../spectroscopy/harmonics-block.js";
import type { AcSusceptibility } from "../susceptibility/susceptibility.js";
import { debyeSusceptibility } from "../susceptibility/susceptibility-model.js";
import { fitJoint } from "./joint-fit.js";

const core = { coreSaturation_A_per_m: 446e3, temperature_K: 300 };
const origin = { assumptions: [], findings: [] };

function curveOf(median_m: number, seed: number): MagnetisationCurve {
  const source = stream(seed, 1);
  const field_T = Float64Array.from({ length: 40 }, (_, i) => 1e-4 * 1e4 ** (i / 39));
  const magnetisation = logNormalCurve(field_T, [100, median_m, 0.15, 1], core).map((v) => v + 0.5 * source.normal());
  const sigma = new Float64Array(40).fill(0.5);
  return {
    name: "curve",
    field_T,
    magnetisation,
    sigma,
    magnetisationUnit: "A.m2/kg",
    basis: "per-iron-mass",
    ...core,
    ...origin,
  };
}

function spectrumOf(median_m: number, seed: number): HarmonicSpectrum {
  const source = stream(seed, 2);
  const blank: HarmonicSpectrum = {
    name: "spectrum",
    harmonic: Int32Array.of(3, 5, 7, 9, 11),
    moment: new Float64Array(10),
    hasPhase: true,
    sigma: new Float64Array(5).fill(5e-4),
    unit: "1",
    basis: "arbitrary",
    driveAmplitude_T: 0.02,
    frequency_Hz: 25e3,
    biasField_T: 0,
    ...core,
    ...origin,
  };
  const clean = harmonicsBlock(blank, "debye").predict(Float64Array.of(1, median_m, 0.15, 2e-6), new Float64Array(10));
  return { ...blank, moment: clean.map((value) => value + 5e-4 * source.normal()) };
}

function susceptibilityOf(time_s: number, seed: number): AcSusceptibility {
  const source = stream(seed, 3);
  const frequency_Hz = Float64Array.from({ length: 20 }, (_, i) => 1e3 * 1e3 ** (i / 19));
  const chi = debyeSusceptibility(frequency_Hz, { static: 1, highFrequency: 0.1, relaxationTime_s: time_s });
  const noisy = chi.map((value) => value + 0.01 * source.normal());
  return {
    name: "susceptibility",
    frequency_Hz,
    real: noisy.slice(0, 20),
    imaginary: noisy.slice(20),
    sigmaReal: new Float64Array(20).fill(0.01),
    sigmaImaginary: new Float64Array(20).fill(0.01),
    unit: "1",
    basis: "per-sample-volume",
    fieldAmplitude_T: 1e-4,
    ...origin,
  };
}

describe("fitJoint", () => {
  const curve = curveOf(18e-9, 1);
  const harmonics = spectrumOf(18e-9, 1);
  const susceptibility = susceptibilityOf(2e-6, 1);
  const fit = fitJoint([{ curve }, { harmonics, relaxation: "debye" }, { susceptibility, model: "debye" }]);
  const named = (name: string) => {
    const found = fit.parameters.find((parameter) => parameter.name === name);
    if (found === undefined) throw new Error(`no parameter ${name}`);
    return found;
  };

  it("shares the tracer and leaves each instrument its scale", () => {
    expect(fit.shared).toEqual(["median-diameter", "log-sd", "relaxation-time"]);
    expect(fit.parameters.map(({ name }) => name)).toEqual([
      "saturation-of-1",
      "median-diameter",
      "log-sd",
      "background-slope-of-1",
      "saturation-of-2",
      "relaxation-time",
      "static-susceptibility-of-3",
      "high-frequency-susceptibility-of-3",
    ]);
    for (const [name, value] of [
      ["median-diameter", 18e-9],
      ["log-sd", 0.15],
      ["relaxation-time", 2e-6],
    ] as const)
      expect(Math.abs(named(name).value - value)).toBeLessThan(4 * named(name).standardUncertainty);
  });
  it("knows the shared parameters better than any instrument alone", () => {
    for (const { alone } of fit.instruments)
      for (const { name, standardUncertainty } of alone)
        if (Number.isFinite(standardUncertainty))
          expect(named(name).standardUncertainty).toBeLessThan(standardUncertainty * 1.001);
  });
  it("states chi2 and runs of each instrument, which add up", () => {
    const sum = fit.instruments.reduce((total, { chiSquared }) => total + chiSquared, 0);
    expect(sum).toBeCloseTo(fit.chiSquared, 8);
    expect(fit.instruments.map(({ values }) => values)).toEqual([40, 10, 40]);
    expect(fit.instruments[0].chiSquaredAlone).toBeCloseTo(fitLogNormal(curve).chiSquared, 6);
    expect(fit.tension.degreesOfFreedom).toBe(3);
    expect(fit.advisories.map(({ code }) => code)).not.toContain("instruments-disagree");
  });
  it("says when the instruments see different tracers", () => {
    const other = fitJoint([{ curve }, { harmonics: spectrumOf(21e-9, 1), relaxation: "debye" }]);
    expect(other.tension.pValue).toBeLessThan(1e-3);
    const said = other.advisories.find(({ code }) => code === "instruments-disagree");
    expect(said?.message).toMatch(/median-diameter .* by "curve".* by "spectrum"/);
  });
  it("takes the scatter of its own fit where an instrument has no sigma, and says so", () => {
    const { sigma: _, ...bare } = curve;
    const joint = fitJoint([{ curve: bare }, { harmonics, relaxation: "debye" }]);
    expect(joint.instruments.map(({ sigmaFrom }) => sigmaFrom)).toEqual(["scatter", "stated"]);
    expect(joint.advisories.map(({ code }) => code)).toContain("no-sigma");
  });
  it("refuses instruments with nothing in common", () => {
    expect(() => fitJoint([{ curve }, { susceptibility, model: "debye" }])).toThrow("no parameter in common");
  });
});
