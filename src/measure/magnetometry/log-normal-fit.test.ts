import { describe, expect, it } from "vitest";
import type { MagnetisationCurve } from "./curve.js";
import { evaluateFit } from "./evaluate-fit.js";
import type { CurveFit } from "./fit-result.js";
import { fitLogNormal } from "./log-normal-fit.js";
import { logNormalCurve } from "./log-normal-model.js";

const conditions = { coreSaturation_A_per_m: 446e3, temperature_K: 300 };

function geometric(from: number, to: number, n: number): Float64Array {
  return Float64Array.from({ length: n }, (_, i) => from * (to / from) ** (i / (n - 1)));
}

/** A curve of the model itself plus a deterministic wiggle: the fit's own inverse, not a check of the physics. */
function curveOf(
  parameters: readonly number[],
  { field_T = geometric(1e-4, 3, 50), wiggle = 0, ...rest }: Partial<MagnetisationCurve> & { wiggle?: number } = {},
): MagnetisationCurve {
  const clean = logNormalCurve(field_T, parameters, conditions);
  const magnetisation = clean.map((value, i) => value + wiggle * (i % 2 === 0 ? 1 : -1));
  return {
    name: "test",
    field_T,
    magnetisation,
    magnetisationUnit: "A.m2/kg",
    basis: "per-iron-mass",
    assumptions: [],
    findings: [],
    ...conditions,
    ...rest,
  };
}

const value = ({ parameters }: CurveFit, name: string) => parameters.find((each) => each.name === name)!;
const codes = ({ advisories }: CurveFit) => advisories.map(({ code }) => code);

describe("fitLogNormal", () => {
  it.each([
    [100, 10e-9, 0.1, 0],
    [80, 25e-9, 0.25, 2],
    [1e-6, 6e-9, 0.5, -1e-8],
    [90, 8e-9, 0.8, 1],
    [446e3, 15e-9, 0.3, 0],
  ])("finds S %d, d %d, s %d, chi %d again", (...truth) => {
    const fit = fitLogNormal(curveOf(truth, { field_T: geometric(1e-5, 5, 80) }));
    expect(fit.outcome).toBe("converged");
    for (const [j, expected] of truth.entries()) {
      const found = fit.parameters[j].value;
      // exact data: what is left is the rounding of M through the conditioning of the problem
      expect(Math.abs(found - expected)).toBeLessThan(1e-6 * (Math.abs(expected) || truth[0]));
    }
  });
  it("is odd in the field: a mirrored branch gives the same parameters", () => {
    const curve = curveOf([100, 12e-9, 0.3, 1], { wiggle: 0.1 });
    const mirrored = {
      ...curve,
      field_T: curve.field_T.map((b) => -b),
      magnetisation: curve.magnetisation.map((m) => -m),
    };
    const [a, b] = [fitLogNormal(curve), fitLogNormal(mirrored)];
    for (const [j, { value: v }] of a.parameters.entries()) expect(b.parameters[j].value / v).toBeCloseTo(1, 7);
  });
  it("names units, weighting and the volume-weighted median, with the uncertainty through the covariance", () => {
    const fit = fitLogNormal(curveOf([100, 10e-9, 0.3, 1], { wiggle: 0.2 }));
    expect(fit.parameters.map(({ unit }) => unit)).toEqual(["A.m2/kg", "m", "1", "A.m2/kg/T"]);
    expect(fit.weighting).toBe("number");
    const [d, s] = [value(fit, "median-diameter"), value(fit, "log-sd")];
    expect(fit.derived[0].value).toBeCloseTo(d.value * Math.exp(3 * s.value ** 2), 15);
    // d and s are strongly anti-correlated, the volume median is better known than either: far below the naive sum
    const naive =
      fit.derived[0].value * Math.hypot(d.standardUncertainty / d.value, 6 * s.value * s.standardUncertainty);
    expect(fit.derived[0].standardUncertainty).toBeLessThan(0.5 * naive);
    expect(fit.derived[0].standardUncertainty).toBeGreaterThan(0);
  });
  it("believes a stated sigma, and scales by the scatter without one", () => {
    const curve = curveOf([100, 10e-9, 0.3, 1], { wiggle: 0.2 });
    const without = fitLogNormal(curve);
    const doubled = fitLogNormal({ ...curve, sigma: new Float64Array(50).fill(0.4) });
    expect(without.uncertaintyBasis).toBe("residual-scatter");
    expect(without.reducedChiSquared).toBe(1);
    // wiggle of 0.2: scatter with 46 of 50 degrees of freedom left
    const scatter = 0.2 * Math.sqrt(50 / 46);
    const ratio = value(doubled, "saturation").standardUncertainty / value(without, "saturation").standardUncertainty;
    expect(ratio).toBeCloseTo(0.4 / scatter, 2);
    expect(doubled.reducedChiSquared).toBeCloseTo(0.25 * (50 / 46), 2);
    expect(without.modelInadequacy.value).toBeCloseTo(0.2, 2);
  });
  it("says that sigma is no independent noise when chi2/dof is small, and that it is too small when large", () => {
    const curve = curveOf([100, 10e-9, 0.3, 1], { wiggle: 0.2 });
    expect(codes(fitLogNormal({ ...curve, sigma: new Float64Array(50).fill(0.4) }))).toContain(
      "sigma-not-independent-noise",
    );
    expect(codes(fitLogNormal({ ...curve, sigma: new Float64Array(50).fill(0.1) }))).toContain("sigma-too-small");
  });
  it("sees a second population as correlated residuals", () => {
    const field_T = geometric(1e-4, 3, 60);
    const one = logNormalCurve(field_T, [50, 6e-9, 0.1, 0], conditions);
    const two = logNormalCurve(field_T, [50, 25e-9, 0.1, 0], conditions);
    const mixture = curveOf([1, 1e-8, 0.1, 0], { field_T });
    const fit = fitLogNormal({
      ...mixture,
      magnetisation: one.map((m, i) => m + two[i]),
      sigma: new Float64Array(60).fill(0.5),
    });
    expect(codes(fit)).toContain("correlated-residuals");
  });
});

describe("fitLogNormal: limits and bounds", () => {
  it("holds the background at none, or at a bound that it runs into, and says so only for the latter", () => {
    const curve = curveOf([100, 10e-9, 0.3, -1], { wiggle: 0.1 });
    const none = fitLogNormal(curve, { background: "none" });
    expect(value(none, "background-slope")).toMatchObject({ value: 0 });
    expect(codes(none)).not.toContain("at-bound");
    const bounded = fitLogNormal(curve, { background: { minimum: 0 } });
    expect(value(bounded, "background-slope")).toMatchObject({
      value: 0,
      atBound: true,
      standardUncertainty: Number.NaN,
    });
    expect(codes(bounded)).toContain("at-bound");
    expect(value(bounded, "saturation").standardUncertainty).toBeGreaterThan(0);
  });
  it("ends log-sd at its lower bound for cores of one size narrower than noise can tell", () => {
    const field_T = geometric(1e-3, 3, 60);
    const steeper = curveOf([100, 12e-9, 0.001, 0], { field_T });
    // sharpened beyond any Langevin curve: the width wants to be negative
    const magnetisation = steeper.magnetisation.map(
      (m) => m + 3 * Math.sin((Math.PI * (m - 50)) / 50) * (m > 0 ? 1 : 0),
    );
    const fit = fitLogNormal({ ...steeper, magnetisation, sigma: new Float64Array(60).fill(1) });
    expect(value(fit, "log-sd")).toMatchObject({ atBound: true });
    expect(codes(fit)).toContain("at-bound");
  });
  it("names what the linear start of a curve cannot tell", () => {
    const straight = { field_T: geometric(1e-5, 4e-4, 40), sigma: new Float64Array(40).fill(0.001), wiggle: 0.001 };
    const fit = fitLogNormal(curveOf([100, 6e-9, 0.2, 0], straight));
    expect(fit.notIdentifiable).toContain("saturation");
    expect(codes(fit)).toContain("not-identifiable");
  });
  it("names nothing for a curve that shows its saturation, even with no background to speak of", () => {
    const fit = fitLogNormal(curveOf([100, 12e-9, 0.3, 0], { sigma: new Float64Array(50).fill(0.5), wiggle: 0.5 }));
    expect(fit.notIdentifiable).toEqual([]);
  });
  it("refuses too few fields, no magnetisation, and asks for the facts that make a diameter", () => {
    const curve = curveOf([100, 10e-9, 0.3, 0]);
    const short = { ...curve, field_T: curve.field_T.slice(0, 4), magnetisation: curve.magnetisation.slice(0, 4) };
    expect(() => fitLogNormal(short)).toThrow("4 different field strengths");
    expect(() => fitLogNormal({ ...curve, magnetisation: new Float64Array(50) })).toThrow("zero throughout");
    expect(() => fitLogNormal({ ...curve, temperature_K: undefined })).toThrow('"temperature"');
    expect(() => fitLogNormal({ ...curve, coreSaturation_A_per_m: undefined })).toThrow('"coreSaturation"');
    expect(() => fitLogNormal(curve, { background: { minimum: 1, maximum: 0 } })).toThrow("minimum <= maximum");
  });
  it("carries assumptions, findings and the caution about loops", () => {
    const assumptions = [{ fact: "basis", value: "per-oxide-mass", note: "why" }];
    const fit = fitLogNormal(curveOf([100, 10e-9, 0.3, 0], { assumptions, findings: ["odd"], branch: "loop" }));
    expect(codes(fit)).toEqual(expect.arrayContaining(["assumed-fact", "file-finding", "hysteresis-ignored"]));
  });
  it("says that chi2/dof means nothing without a sd column", () => {
    expect(codes(fitLogNormal(curveOf([100, 10e-9, 0.3, 0], { wiggle: 0.1 })))).toContain("no-sigma");
    const sigma = new Float64Array(50).fill(0.1);
    expect(codes(fitLogNormal(curveOf([100, 10e-9, 0.3, 0], { wiggle: 0.1, sigma })))).not.toContain("no-sigma");
  });
  it("says by how much the fitted saturation contradicts the one that sized the cores", () => {
    const of = (saturation: number, basis: MagnetisationCurve["basis"]) =>
      fitLogNormal(curveOf([saturation, 10e-9, 0.3, 0], { basis, coreMaterial: "magnetite", wiggle: 0.1 }));
    // 446 kA/m over 5180 kg/m3 is 86.1 A.m2 per kg of magnetite; 96.3 would be 499 kA/m
    expect(codes(of(86.1, "per-oxide-mass"))).not.toContain("inconsistent-saturation");
    const { advisories } = of(96.3, "per-oxide-mass");
    expect(advisories.find(({ code }) => code === "inconsistent-saturation")?.message).toMatch(
      /a core of 499 kA\/m, 12 % larger than .* 446 kA\/m .* the diameters would be 3\.7 % smaller/,
    );
    expect(codes(of(96.3, "per-sample-mass"))).not.toContain("inconsistent-saturation");
  });
  it("evaluates the fit on another grid", () => {
    const curve = curveOf([100, 10e-9, 0.3, 1]);
    const fit = fitLogNormal(curve);
    expect([...evaluateFit(fit, curve, curve.field_T)]).toEqual([...fit.fitted]);
  });
});
