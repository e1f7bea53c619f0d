import { describe, expect, it } from "vitest";
import { idealScanner, maxwellPair } from "../../../test/invented-scanners.js";
import { finishSteps } from "../../numerics/index.js";
import { vacuumPermeability_T_m_per_A } from "../../units/index.js";
import { fieldAnalysisSteps } from "./field-analysis.js";

const analysed = (parts: Readonly<Record<string, unknown>> = {}) =>
  finishSteps(fieldAnalysisSteps(idealScanner(parts)));

describe("an ideal point scanner", () => {
  const analysis = analysed();

  it("has its field-free point at the origin and its own gradient, to rounding", () => {
    expect(analysis.region.kind).toBe("point");
    expect(Math.hypot(...analysis.reference.center_m)).toBeLessThan(1e-15);
    const exact = [-3.5, 0, 0, 0, -3.5, 0, 0, 0, 7];
    // Differences of sixth order of a linear field: rounding alone, 1e-16 of |B|/step.
    for (const [i, value] of analysis.reference.gradient_T_per_m.entries())
      expect(Math.abs(value - exact[i])).toBeLessThan(1e-12);
    expect(analysis.principal.values_T_per_m[0]).toBeCloseTo(7, 10);
    expect(Math.abs(analysis.selfCheck.divergence)).toBeLessThan(1e-12);
    expect(Math.abs(analysis.selfCheck.curl)).toBeLessThan(1e-12);
  });

  it("has no gradient error in the whole bore, and draws iron where it is", () => {
    const { usable, edges, ballAtEdge } = analysis;
    expect(usable.volumeFraction).toBe(1);
    expect(usable.sphere).toMatchObject({ isBore: true });
    expect(usable.sphere.distance_m).toBeCloseTo(0.03, 12);
    for (const reaches of Object.values(usable.along)) expect(reaches.every(({ isBore }) => isBore)).toBe(true);
    for (const { positionError_m, concentrationFactor } of edges) {
      expect(Math.abs(positionError_m)).toBeLessThan(1e-12);
      expect(concentrationFactor).toBeCloseTo(1, 9);
    }
    expect(ballAtEdge?.missedShare).toBeLessThan(1e-9);
  });
});

it("an ideal line scanner has a straight line along its axis, as long as the bore", () => {
  const { region } = analysed({
    topology: "field-free-line",
    selectionField: { kind: "ideal", gradient: ["2 T/m", "0 T/m", "-2 T/m"] },
  });
  expect(region.kind).toBe("line");
  expect(Math.abs(region.lines[0].direction[1])).toBeCloseTo(1, 9);
  expect(region.lines[0].straightness_m).toBeLessThan(1e-9);
});

describe("a Maxwell pair", () => {
  const [radius_m, current_A] = [0.165, 5];
  const analysis = analysed({ selectionField: maxwellPair({ radius_m, current_A }) });
  // Facts L5: dB/dz = (48/49) sqrt(3/7) mu0 N I/a²; L6: half of it across, of the other sign.
  const axial = ((48 / 49) * Math.sqrt(3 / 7) * vacuumPermeability_T_m_per_A * current_A) / radius_m ** 2;

  it("has the gradient of its closed form along its axis, and half of it across", () => {
    const g = analysis.reference.gradient_T_per_m;
    // Sixth-order differences with a step of a hundredth of the bore's radius, sources five radii away: 1e-12.
    expect(g[8] / axial).toBeCloseTo(1, 11);
    expect(g[0] / axial).toBeCloseTo(-0.5, 11);
    expect(g[4] / axial).toBeCloseTo(-0.5, 11);
    // The published check value of L5, to its digits.
    expect(axial).toBeCloseTo(1.48e-4, 7);
  });

  it("its first error is of fourth order: a bore of a fifth of the radius lies within 10 %", () => {
    const { usable } = analysis;
    expect(usable.share).toBe(0.1);
    expect(usable.volumeFraction).toBe(1);
    expect(usable.sphere.isBore).toBe(true);
  });

  it("in a wider bore iron beyond the middle is drawn too far in where the gradient falls", () => {
    const wide = analysed({
      boreDiameter: "240 mm",
      boreLength: "200 mm",
      selectionField: maxwellPair({ radius_m, current_A }),
    });
    const [, , z] = wide.edges;
    expect(wide.usable.sphere.isBore).toBe(false);
    expect(wide.usable.volumeFraction).toBeLessThan(1);
    // On the axis B = mu0 I a²/2 [(a² + (z-d)²)^-3/2 - (a² + (z+d)²)^-3/2], facts L1: the drawn place is B/G.
    const d = (Math.sqrt(3) * radius_m) / 2;
    const loop = (at: number) => (radius_m ** 2 + at ** 2) ** -1.5;
    const field =
      ((vacuumPermeability_T_m_per_A * current_A * radius_m ** 2) / 2) *
      (loop(z.distance_m - d) - loop(z.distance_m + d));
    expect(z.positionError_m).toBeCloseTo(Math.abs(field) / axial - z.distance_m, 8);
    expect(z.positionError_m).toBeLessThan(0);
  });
});
