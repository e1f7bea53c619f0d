import { describe, expect, it } from "vitest";
import { solenoidFieldFormula } from "../../src/physics/sources/coil-formulas.js";
import { halbachFieldFormula } from "../../src/physics/sources/halbach-formula.js";
import {
  blockErrors,
  type Comparison,
  ellipticErrors,
  loopErrors,
  printedErrors,
  sectorErrors,
  segmentErrors,
  stackErrors,
  sumOfContributions,
  tiltedLoopErrors,
} from "./compare.js";

/*
 * Errors are |found − true|/|true| of a whole vector. Asked for: 1e-10 of the sum of the contributions. What limits us is
 * written beside each tolerance; "rounding" means some units of the last place.
 */
function expectAll(rows: readonly Comparison[], { count, tolerance }: { count: number; tolerance: number }): void {
  expect(rows.length).toBe(count);
  expect(rows.filter(({ error }) => !(error <= tolerance))).toEqual([]);
}

describe("fields of coils and magnets against quadrature of the laws themselves", () => {
  // Rounding: K, E and cel add terms of one sign; the row with p < 0 starts with a difference.
  it("complete elliptic integrals", () => expectAll(ellipticErrors(), { count: 38, tolerance: 2e-15 }));

  // Rounding: nothing cancels, from 1e-12 radii off the axis to 1e4 radii away and 1e-6 from the wire.
  it("loops, B and A", () => expectAll(loopErrors(), { count: 82, tolerance: 2e-15 }));

  // The point's own coordinates, rounded, over the distance from the wire (a hundredth of the radius at least).
  it("loops in a tilted frame", () => expectAll(tiltedLoopErrors(), { count: 37, tolerance: 2e-14 }));

  // Truth is a double-precision quadrature whose weights add to 1 within 5e-15. Outside a sheet 20 radii long the two ends
  // cancel to 1e-3 (worst row). Points inside the winding and in the plane of its end are among them.
  it("coil stacks, thin and thick", () => expectAll(stackErrors(), { count: 23, tolerance: 1e-13 }));

  it("segments, B and A", () => expectAll(segmentErrors(), { count: 12, tolerance: 2e-15 }));

  // A plate of 100 : 1 just before dipoles take over: opposite faces cancel to 1e-4 (1e-12); cubes are at 5e-14.
  it("blocks, B and A, inside, on face planes, on extended edges, far", () =>
    expectAll(blockErrors(), { count: 96, tolerance: 4e-12 }));

  // Truth's quadrature near an edge (5e-14); ours at 1e-14.
  it("ring sectors, B and A, inside and out", () => expectAll(sectorErrors(), { count: 160, tolerance: 2e-13 }));

  // The sheet prints 7 or more digits: half a unit of the last, up to 3.1e-8 of the value; its mu0 is 1.3e-10 off ours.
  it("facts W34 to W37", () => expectAll(printedErrors(), { count: 8, tolerance: 1e-7 }));

  it("facts W37 and W38, through the formulas", () => {
    const solenoid = solenoidFieldFormula.compute({ length: 0.2, radius: 0.05, turns: 200, current: 1, z: 0 });
    expect(Math.abs(solenoid.field / 1.1239704e-3 - 1)).toBeLessThan(1e-6);
    const ring = { length: 0, segments: 0, poles: 2 };
    const two = halbachFieldFormula.compute({ ...ring, remanence: 1.3, "inner-radius": 0.05, "outer-radius": 0.1 });
    expect(Math.abs(two.field / 0.9010913 - 1)).toBeLessThan(1e-6);
    const thin = halbachFieldFormula.compute({ ...ring, remanence: 1, "inner-radius": 0.044, "outer-radius": 0.048 });
    expect(Math.abs(thin.field / 0.0870114 - 1)).toBeLessThan(1e-6);
  });

  // By symmetry the 24 fields cancel at the centre: what is left is error, against the sum of the magnitudes.
  it("a sum that cancels keeps its error below 1e-14 of the contributions", () => {
    const { sum_T, size_T } = sumOfContributions();
    expect(size_T).toBeGreaterThan(1e-5);
    expect(sum_T).toBeLessThan(1e-14 * size_T);
  });
});
