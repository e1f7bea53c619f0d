import { describe, expect, it } from "vitest";
import { langevinRatioWidth, langevinSlopeWidth } from "../../src/physics/index.js";
import { type KernelName, truth, worstError } from "./compare.js";

/**
 * Relative error allowed. What limits us: each value is a handful of correctly rounded operations, so 1e-15 (4.5 units in
 * the last place) for L and L/xi; the slope just above 1 is 1 - 0.72, which multiplies rounding by 6; the second derivative
 * just above 1.5 is -0.59 + 0.49, which multiplies it by 10. Asked for: 1e-14. Worst of a dense sweep (report.ts --sweep):
 * L 3.5e-16, L/xi 3.8e-16, slope 1.2e-15, curvature 2.8e-15.
 */
const tolerance: Record<KernelName, number> = { L: 1e-15, ratio: 1e-15, slope: 2e-15, curvature: 5e-15 };

/** Named here too, so that a range that vanishes from the table fails. */
const ranges: Record<string, number> = {
  subnormal: 11,
  "1e-300 to 1e-8": 60,
  "1e-8 to 0.5": 140,
  "0.5 to 1": 103,
  "1 to 20": 426,
  "20 to 700": 62,
  "beyond 700": 30,
};

describe("Langevin functions against a 60-digit table", () => {
  it("has every range with all its points", () => {
    const found = Object.entries(truth.ranges).map(([name, rows]) => [name, rows.length]);
    expect(Object.fromEntries(found)).toEqual(ranges);
  });

  const cases = Object.keys(ranges).flatMap((range) =>
    (Object.keys(tolerance) as KernelName[]).map((kernel) => ({ range, kernel })),
  );
  it.each(cases)("$kernel, $range", ({ range, kernel }) => {
    const { relativeError, xi } = worstError(range, kernel);
    expect(relativeError, `worst at xi = ${xi}`).toBeLessThanOrEqual(tolerance[kernel]);
  });
});

describe("full widths at half maximum, in xi", () => {
  // The half height is found to the last bit; a slope of about 0.1 per unit of xi at the half height turns the 2e-16 error
  // of the function into about 1e-15 of xi.
  it("of L'", () => expectRelative(langevinSlopeWidth, Number(truth.widths.slope), 4e-15));
  it("of L/xi", () => expectRelative(langevinRatioWidth, Number(truth.widths.ratio), 4e-15));
});

function expectRelative(found: number, expected: number, allowed: number): void {
  expect(Math.abs(found / expected - 1)).toBeLessThanOrEqual(allowed);
}
