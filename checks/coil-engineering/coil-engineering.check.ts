import { describe, expect, it } from "vitest";
import {
  type Comparison,
  coaxialErrors,
  loopErrors,
  parallelErrors,
  placedErrors,
  publishedErrors,
  rectangleErrors,
  ringErrors,
  sheetErrors,
  skinErrors,
  stackErrors,
  strandRatios,
} from "./compare.js";
import { laws } from "./scaling-laws.js";

describe("coils against other methods", () => {
  // A continued fraction of positive terms: roundings. Beyond a/delta = 1e4 two terms of the asymptotic series.
  it("skin effect of a round wire, a/delta 1e-3 to 2e4", () =>
    expectAll(skinErrors(), { count: 20, tolerance: 1e-13 }));

  // A law for thin strands: shielding enters as the fourth power of a/delta.
  it("loss of a strand across a field is exact for thin strands and stated for others", () => {
    const ratios = new Map(strandRatios());
    expect(ratios.size).toBe(5);
    expect(Math.abs(Number(ratios.get(0.01)) - 1)).toBeLessThan(1e-8);
    expect(Number(ratios.get(0.5))).toBeCloseTo(1.007, 3);
    expect(Number(ratios.get(1))).toBeCloseTo(1.114, 3);
  });

  // Roundings of the arithmetic, except where radii of 1 and 0.999999 leave their difference with ten figures.
  it("two coaxial loops, from 1e-6 to 1e4 radii apart", () => expectAll(loopErrors(), { count: 8, tolerance: 5e-12 }));

  // Short sheets: a difference of two values 1e6 times larger, and below 1e-3 radii the next term of the series.
  it("thin sheets, length 1e-4 to 1e3 radii", () => expectAll(sheetErrors(), { count: 8, tolerance: 1e-10 }));

  // The wave-number integrals of thin sections and edges in contact end at 1e-10 themselves; the flat disc is the
  // hardest for the quadrature over radii.
  it("stacks of rectangular section", () => expectAll(stackErrors(), { count: 8, tolerance: 5e-10 }));
  it("coaxial pairs: touching, nested, far, with sheets and loops", () =>
    expectAll(coaxialErrors(), { count: 10, tolerance: 5e-11 }));

  // The first terms left out are of the order (r/a)⁴: 3e-6 at r/a = 0.2.
  it("rings of round section up to r/a = 0.2", () => {
    expectAll(ringErrors(), { count: 5, tolerance: 4e-6 });
    expectAll(ringErrors().slice(0, 4), { count: 4, tolerance: 2.5e-7 });
  });

  // Both sides leave out the bends, differently: exact only for thin wire, so the tolerance is the wire's share r/edge.
  it("rectangles of round wire", () => {
    expectAll(rectangleErrors().slice(0, 3), { count: 3, tolerance: 1e-7 });
    expectAll(rectangleErrors().slice(3, 4), { count: 1, tolerance: 1e-3 });
    expectAll(rectangleErrors().slice(4), { count: 1, tolerance: 1e-2 });
  });

  // Quadratures stop by 1e-6 between two sets of nodes, the better of which is used.
  it("windings in any position", () => expectAll(placedErrors(), { count: 10, tolerance: 1e-9 }));
  it("parallel axes, gaps down to an eighth of the section", () =>
    expectAll(parallelErrors(), { count: 5, tolerance: 1e-7 }));

  // Half a unit of the last figure printed: 6 of Nagaoka, 5 of the others.
  it("published figures", () => {
    const [brooks, square] = [5e-5 / 1.6994, 5e-6 / (Math.log(1e4) - 0.52401)];
    const tolerances = [...[0.920093, 0.818136, 0.688423, 0.52551, 0.319825].map((k) => 5e-7 / k), brooks, square];
    publishedErrors().forEach((row, i) => {
      expectAll([row], { count: 1, tolerance: tolerances[i] });
    });
  });
});

describe("scaling laws found by building coils at four bores (facts L11)", () => {
  // A coil at another size is the same coil: powers hold to rounding.
  const expected = {
    "Maxwell pair": {
      current_A: [1, 2, 0],
      power_W: [2, 3, 0],
      storedEnergy_J: [2, 5, 0],
      reactivePower_var: [2, 5, 1],
    },
    solenoid: { current_A: [1, 1, 0], power_W: [2, 1, 0], storedEnergy_J: [2, 3, 0], reactivePower_var: [2, 3, 1] },
  };
  it.each(laws().map(({ name, result }) => [name, result] as const))("%s", (name, result) => {
    for (const [quantity, exponents] of Object.entries(expected[name as keyof typeof expected])) {
      const law = result[quantity as keyof (typeof expected)["solenoid"]];
      const found = [law.exponents.wanted, law.exponents.scale, law.exponents.frequency];
      for (let i = 0; i < 3; i++) expect(Math.abs(found[i] - exponents[i])).toBeLessThan(1e-12);
      expect(law.worstResidual).toBeLessThan(1e-12);
    }
  });
});

function expectAll(rows: readonly Comparison[], { count, tolerance }: { count: number; tolerance: number }): void {
  expect(rows.length).toBe(count);
  const failures = rows.filter(({ relativeError }) => !(relativeError <= tolerance));
  expect(failures).toEqual([]);
}
