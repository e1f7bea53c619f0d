import { describe, expect, it } from "vitest";
import { chainField_T, dipolarCoupling, dipoleField_T, geometricCoupling, zetaOfThree } from "./chain-coupling.js";
import { chainCoerciveFieldFormula, chainPsfWidthFormula, chainRemanenceFormula } from "./chain-formulas.js";

const geometry = { moment_A_m2: 1.868e-18, spacing_m: 24e-9 };

describe("fields in a chain", () => {
  it("add up to the endless chain as neighbours are added", () => {
    const endless = chainField_T(geometry);
    expect(chainField_T(geometry, { perSide: 0 })).toBe(0);
    expect(chainField_T(geometry, { perSide: 1 })).toBeCloseTo(2 * dipoleField_T(1.868e-18, 24e-9).onAxis, 15);
    // The rest of zeta(3) after n terms is 1/(2 n^2) to leading order.
    expect((1 - chainField_T(geometry, { perSide: 1000 }) / endless) * zetaOfThree * 2e6).toBeCloseTo(1, 2);
  });

  it("give the coupling as moment times field over kB T", () => {
    expect(geometricCoupling(geometry, 300) / dipolarCoupling(geometry, 300)).toBeCloseTo(4 * zetaOfThree, 13);
    expect(geometricCoupling(geometry, 600) * 2).toBeCloseTo(geometricCoupling(geometry, 300), 12);
  });

  it("refuse a distance or temperature of zero", () => {
    expect(() => dipoleField_T(1e-18, 0)).toThrow(/at distance_m/);
    expect(() => dipolarCoupling(geometry, 0)).toThrow(/at temperature_K/);
  });
});

describe("formulas of chains", () => {
  it("compute the worked values", () => {
    const width = chainPsfWidthFormula.compute({ coupling: 2 });
    expect(width["static-width"]).toBeCloseTo(0.987543, 6); // facts W22
    expect([width.peak, width["peak-gain"]]).toEqual([1, 3]);
    const jump = chainCoerciveFieldFormula.compute({ coupling: 6 });
    expect(jump["local-xi"]).toBeCloseTo(2.080524, 6); // facts W23
    expect(jump["coercive-xi"]).toBeCloseTo(1.225645, 6);
    expect(chainRemanenceFormula.compute({ coupling: 6 }).remanence).toBeCloseTo(0.788887, 6);
  });

  it("refuse a width at kappa = 3, and always say that kappa is no geometry", () => {
    expect(() => chainPsfWidthFormula.compute({ coupling: 3 })).toThrow(/at coupling/);
    for (const formula of [chainPsfWidthFormula, chainCoerciveFieldFormula, chainRemanenceFormula])
      expect(formula.advise?.({ coupling: 2.9 }).join(" ")).toMatch(/effective parameter/);
  });
});
