import { describe, expect, it } from "vitest";
import { stream } from "../../numerics/index.js";
import { type ChainFit, fitChain } from "./chain-fit.js";
import { branchParts, chainProblem } from "./chain-model.js";
import type { CurveBranch, MagnetisationCurve } from "./curve.js";
import { fitLogNormal } from "./log-normal-fit.js";

const conditions = { coreSaturation_A_per_m: 446e3, temperature_K: 300 };
const rising_T = Float64Array.from({ length: 60 }, (_, i) => 1e-4 * 1e4 ** (i / 59));
const half = Array.from({ length: 60 }, (_, i) => (0.2 * Math.sinh(4 * (1 - (2 * i) / 59))) / Math.sinh(4));
const loop_T = Float64Array.from([...half, ...half.slice(0, -1).reverse()]);

function curveOf(
  truth: readonly number[],
  { field_T = rising_T as Float64Array, branch = "initial" as CurveBranch, noise = 0, seed = 1 } = {},
): MagnetisationCurve {
  const curve: MagnetisationCurve = {
    name: "invented",
    field_T,
    magnetisation: field_T,
    sigma: new Float64Array(field_T.length).fill(noise || 0.01),
    branch,
    magnetisationUnit: "A.m2/kg",
    basis: "per-iron-mass",
    assumptions: [],
    findings: [],
    ...conditions,
  };
  const source = stream(seed);
  const clean = chainProblem(field_T, branchParts(curve), conditions).model(
    Float64Array.from(truth),
    new Float64Array(field_T.length),
  );
  return { ...curve, magnetisation: clean.map((value) => value + noise * source.normal()) };
}

const codes = ({ advisories }: ChainFit) => advisories.map(({ code }) => code);
const derived = (fit: ChainFit, name: string) => fit.derived.find((each) => each.name === name);

describe("chainProblem", () => {
  it.each([
    ["below 3", rising_T, "initial", [100, 10e-9, 0.2, 1.5, 1]],
    ["loop above 3", loop_T, "loop", [100, 12e-9, 0.15, 4, 1]],
    ["initial above 3", rising_T, "initial", [100, 12e-9, 0.15, 4, 1]],
  ] as const)("has the derivatives of differences, %s", (_, field_T, branch, truth) => {
    const problem = chainProblem(field_T, branchParts(curveOf(truth, { field_T, branch })), conditions);
    const p = Float64Array.from(truth);
    const n = field_T.length;
    const out = new Float64Array(5 * n);
    problem.jacobian(p, out);
    for (let j = 0; j < 5; j++) {
      const h = 1e-6 * p[j];
      const [up, down] = [h, -h].map((by) =>
        Float64Array.from(
          problem.model(
            p.map((value, k) => (k === j ? value + by : value)),
            new Float64Array(n),
          ),
        ),
      );
      const largest = field_T.reduce((most, __, i) => Math.max(most, Math.abs(out[5 * i + j])), 0);
      // rounding 1e-14 over a relative step of 1e-6, and curvature near a spinodal: 1e-4
      for (let i = 0; i < n; i++)
        expect(Math.abs((up[i] - down[i]) / (2 * h) - out[5 * i + j])).toBeLessThan(1e-4 * largest);
    }
  });
});

describe("fitChain", () => {
  it("finds the coupling of an initial curve again", () => {
    const fit = fitChain(curveOf([100, 10e-9, 0.2, 1.5, 1]));
    const expected = [100, 10e-9, 0.2, 1.5, 1];
    for (const [j, value] of expected.entries()) expect(fit.parameters[j].value / value).toBeCloseTo(1, 4);
    expect(fit.isHysteretic).toBe(false);
    expect(codes(fit)).toContain("effective-parameter");
  });
  it("says that coupling and diameter trade off where only small fields were measured", () => {
    // 0.1 to 20 mT: the bend alone tells them apart, and the noise hides it
    const field_T = Float64Array.from({ length: 60 }, (_, i) => 1e-4 * 200 ** (i / 59));
    const fit = fitChain(curveOf([100, 10e-9, 0.2, 1.5, 0], { field_T, noise: 0.3 }), { background: "none" });
    const floats = fit.notIdentifiable.length > 0 || fit.parameters.some(({ atBound }) => atBound);
    expect(floats || codes(fit).includes("strongly-correlated-parameters")).toBe(true);
    expect(codes(fit)).toContain("saturation-not-reached");
  });
  it("fits a loop on its two branches: coupling above 3, coercive field and remanence", () => {
    const fit = fitChain(curveOf([100, 12e-9, 0.15, 4, 1], { field_T: loop_T, branch: "loop", noise: 0.3 }));
    expect(fit.isHysteretic).toBe(true);
    expect(fit.parts.map(({ branch }) => branch)).toEqual(["descending", "ascending"]);
    const { value, standardUncertainty: u } = fit.parameters[3];
    expect(Math.abs(value - 4)).toBeLessThan(4 * u);
    expect(derived(fit, "coercive-field")?.value).toBeGreaterThan(1e-3);
    expect(derived(fit, "remanence")?.value).toBeGreaterThan(40);
    expect(codes(fit)).not.toContain("branches-differ");
  });
  it("keeps below 3 for a loop without hysteresis", () => {
    const fit = fitChain(curveOf([100, 12e-9, 0.15, 2, 1], { field_T: loop_T, branch: "loop", noise: 0.3 }));
    expect(fit.isHysteretic).toBe(false);
    const { value, standardUncertainty: u } = fit.parameters[3];
    expect(Math.abs(value - 2)).toBeLessThan(4 * u);
  });
  it("holds log-sd at 0 for cores of one size", () => {
    const fit = fitChain(curveOf([100, 10e-9, 0.001, 1.5, 1], { noise: 0.3 }), { cores: "single" });
    expect(fit.parameters[2]).toMatchObject({ value: 0, atBound: true });
    expect(Math.abs(fit.parameters[3].value - 1.5)).toBeLessThan(4 * fit.parameters[3].standardUncertainty);
  });
});

describe("a model without hysteresis on a loop", () => {
  it("says that the branches differ, by how much, and what that does to its parameters", () => {
    const loop = curveOf([100, 12e-9, 0.15, 4, 1], { field_T: loop_T, branch: "loop", noise: 0.3 });
    const fit = fitLogNormal(loop);
    expect(fit.branches?.differ).toBe(true);
    const said = fit.advisories.find(({ code }) => code === "branches-differ");
    expect(said?.message).toMatch(/coercive field .* mT, remanence .* A\.m2\/kg; a model without hysteresis/);
  });
});

describe("branchParts", () => {
  it("takes the curve's word, else the order of acquisition", () => {
    const of = (field_T: Float64Array, branch?: CurveBranch) => {
      const { branch: _, ...curve } = curveOf([100, 10e-9, 0.2, 1, 0], { field_T });
      return branchParts(branch === undefined ? curve : { ...curve, branch }).map((part) => [
        part.branch,
        part.rows.length,
      ]);
    };
    expect(of(rising_T)).toEqual([["initial", 60]]);
    expect(of(rising_T, "ascending")).toEqual([["ascending", 60]]);
    expect(of(Float64Array.from(half))).toEqual([["descending", 60]]);
    const virgin = Float64Array.from([0.01, 0.1, 0.2, ...half.slice(1)]);
    expect(of(virgin)).toEqual([
      ["initial", 3],
      ["descending", 59],
    ]);
  });
});
