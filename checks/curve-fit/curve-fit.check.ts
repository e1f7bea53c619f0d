import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { parseCurveDescriptor, readCurve } from "../../src/formats/index.js";
import { type CurveFit, fitLogNormal, type MagnetisationCurve } from "../../src/measure/index.js";

interface Truth {
  readonly coreSaturation_A_per_m: number;
  readonly temperature_K: number;
  readonly measured: {
    readonly parameters: number[];
    readonly covariance: number[];
    readonly reducedChiSquared: number;
    readonly degreesOfFreedom: number;
    readonly lag1: number;
    readonly runs: number;
    readonly runsP: number;
    readonly modelInadequacy: number;
  };
  readonly published: {
    readonly true: number[];
    readonly printedUncertainty: number[];
    readonly expectedUncertainty: number[];
    readonly expectedCorrelation: number[];
    readonly field_T: number[];
    readonly noise: number;
    readonly clean: number[];
    readonly curves: number[][];
  };
}

const bytesOf = (path: string): Uint8Array => new Uint8Array(readFileSync(new URL(path, import.meta.url)));
const truth = JSON.parse(new TextDecoder().decode(bytesOf("./truth.json"))) as Truth;
const folder = "../../shipped/curves/clustered-iron-oxide";
/** Ours are SI, the recipe has nm: powers of ten per parameter. */
const toRecipe = [1, 1e9, 1, 1];
const values = ({ parameters }: CurveFit): number[] => parameters.map(({ value }, j) => value * toRecipe[j]);
const uncertainties = ({ parameters }: CurveFit): number[] =>
  parameters.map(({ standardUncertainty }, j) => standardUncertainty * toRecipe[j]);

describe("the measured curve of clustered iron oxide against scipy.optimize.curve_fit", () => {
  const descriptor = parseCurveDescriptor(new TextDecoder().decode(bytesOf(`${folder}/descriptor.json`)));
  const curve = readCurve(bytesOf(`${folder}/FSL-DCM_data.txt`), descriptor, { file: "FSL-DCM_data.txt" });
  const fit = fitLogNormal(curve);
  const { measured } = truth;

  it("reads all 45 rows, with what was assumed", () => {
    expect(curve.field_T.length).toBe(45);
    expect(curve.assumptions.map(({ fact }) => fact).sort()).toEqual(
      ["basis", "coreMaterial", "coreSaturation", "magnetisationUnit", "temperature"].sort(),
    );
  });
  it("finds the same parameters", () => {
    // 1e-8 relative (measured: 3e-10): chi2 is flat to 1e-16 of itself, so either solver can end about 1e-8 of a
    // standard uncertainty, here up to a third of the value, from the minimum.
    for (const [j, value] of values(fit).entries())
      expect(Math.abs(value / measured.parameters[j] - 1)).toBeLessThan(1e-8);
  });
  it("finds the same covariance", () => {
    // 1e-7 relative (measured: 5e-10): both Jacobians are central differences (1e-10 of a column); inversion multiplies
    // that by the square of a condition number of about 30.
    for (const [k, expected] of measured.covariance.entries()) {
      const ours = fit.covariance[k] * toRecipe[Math.floor(k / 4)] * toRecipe[k % 4];
      expect(Math.abs(ours / expected - 1)).toBeLessThan(1e-7);
    }
  });
  it("agrees on the goodness of fit", () => {
    expect(fit.degreesOfFreedom).toBe(measured.degreesOfFreedom);
    // 1e-12: stationary at the minimum, so second order in the 1e-8 above; what is left is rounding.
    expect(Math.abs(fit.reducedChiSquared / measured.reducedChiSquared - 1)).toBeLessThan(1e-12);
    // 1e-8: first order in the parameters.
    expect(Math.abs(fit.lag1 / measured.lag1 - 1)).toBeLessThan(1e-8);
    expect(Math.abs(fit.modelInadequacy.value / measured.modelInadequacy - 1)).toBeLessThan(1e-8);
    expect(fit.runsTest.runs).toBe(measured.runs);
    // 1e-10: both are exact sums, ours over logarithms of factorials.
    expect(Math.abs(fit.runsTest.pTwoSided / measured.runsP - 1)).toBeLessThan(1e-10);
  });
  it("says what the definitions say of this file: chi2/dof 0.2, correlated residuals, sd no independent noise", () => {
    expect(fit.reducedChiSquared.toFixed(1)).toBe("0.2");
    // 5 standard errors of a lag-1 correlation of independent residuals, 1/sqrt(45) each
    expect(fit.lag1).toBeGreaterThan(5 / Math.sqrt(45));
    expect(fit.runsTest.pTwoSided).toBeLessThan(0.01);
    const codes = fit.advisories.map(({ code }) => code);
    expect(codes).toContain("sigma-not-independent-noise");
    expect(codes).toContain("correlated-residuals");
    expect(codes.filter((code) => code === "assumed-fact")).toHaveLength(5);
  });
});

describe("curves simulated from the parameters of a published fit", () => {
  const { published } = truth;
  const curveOf = (magnetisation: readonly number[]): MagnetisationCurve => ({
    name: "simulated",
    field_T: Float64Array.from(published.field_T),
    magnetisation: Float64Array.from(magnetisation),
    sigma: new Float64Array(magnetisation.length).fill(published.noise),
    magnetisationUnit: "A.m2/kg",
    basis: "per-iron-mass",
    temperature_K: truth.temperature_K,
    coreSaturation_A_per_m: truth.coreSaturation_A_per_m,
    assumptions: [],
    findings: [],
  });
  const fits = published.curves.map((curve) => fitLogNormal(curveOf(curve)));

  it("gives the printed parameters back from a curve without noise", () => {
    const fit = fitLogNormal(curveOf(published.clean));
    // 1e-9 (measured: 1e-14): two quadratures of the size average agree to 1e-12 of M, of which the least determined
    // parameter, log-sd, makes up to a thousand times as much.
    for (const [j, value] of values(fit).entries()) expect(Math.abs(value / published.true[j] - 1)).toBeLessThan(1e-9);
  });
  it("states the volume-weighted median that goes with the number-weighted one", () => {
    // 12.72 nm printed beside 12.24 nm; half a unit of the last digit of each.
    const fit = fitLogNormal(curveOf(published.clean));
    expect(Math.abs(fit.derived[0].value * 1e9 - 12.72)).toBeLessThan(0.01);
  });
  it("would be as uncertain as printed, at the noise chosen", () => {
    // One number, the noise, was chosen; four uncertainties follow. 15 %: the paper's fields are not known to us.
    const ours = uncertainties(fitLogNormal(curveOf(published.clean)));
    for (const [j, printed] of published.printedUncertainty.entries()) {
      expect(Math.abs(ours[j] / printed - 1)).toBeLessThan(0.15);
    }
    // Printed correlations: median with log-sd -0.95, saturation with slope -0.84. 0.02 for the unknown fields.
    const { correlation } = fitLogNormal(curveOf(published.clean));
    expect(Math.abs(correlation[1 * 4 + 2] + 0.95)).toBeLessThan(0.02);
    expect(Math.abs(correlation[0 * 4 + 3] + 0.84)).toBeLessThan(0.02);
  });
  it("recovers each of 60 noisy curves within its stated covariance", () => {
    // Sum over 60 fits of the squared distance in the metric of the stated covariance: chi2 with 240 degrees of freedom
    // for a right, linear method. 174.4 to 318.7 leaves out 0.05 % on each side (scipy.stats.chi2.ppf).
    const total = fits.reduce((sum, fit) => sum + squaredDistance(fit, published.true), 0);
    expect(total).toBeGreaterThan(174.4);
    expect(total).toBeLessThan(318.7);
  });
  it("is unbiased to within the noise of 60 fits", () => {
    for (const [j, expected] of published.true.entries()) {
      const mean = fits.reduce((sum, fit) => sum + values(fit)[j], 0) / fits.length;
      // 3.5 standard errors of the mean: 0.05 % per parameter
      expect(Math.abs(mean - expected) / published.expectedUncertainty[j]).toBeLessThan(3.5 / Math.sqrt(fits.length));
    }
  });
  it("raises no alarm about honest noise in most fits", () => {
    // Advisory at p < 0.01 of the runs test: 0.6 expected in 60; more than 4 has a probability below 0.0005.
    const alarms = fits.filter(({ advisories }) =>
      advisories.some(({ code }) => code === "sigma-not-independent-noise"),
    );
    expect(alarms.length).toBeLessThanOrEqual(4);
  });
});

/** (p - t)^T C^-1 (p - t) by Gaussian elimination on the scaled covariance. */
function squaredDistance(fit: CurveFit, expected: readonly number[]): number {
  const sd = uncertainties(fit);
  const z = values(fit).map((value, j) => (value - expected[j]) / sd[j]);
  const a = z.map((value, i) => [...Array.from({ length: 4 }, (_, j) => fit.correlation[4 * i + j]), value]);
  for (let i = 0; i < 4; i++)
    for (let k = i + 1; k < 4; k++) {
      const factor = a[k][i] / a[i][i];
      for (let j = i; j < 5; j++) a[k][j] -= factor * a[i][j];
    }
  return a.reduce((sum, row, i) => sum + row[4] ** 2 / row[i], 0);
}
