import { describe, expect, it } from "vitest";
import { visitNodes } from "./graded-nodes.js";

function integral(f: (x: number) => number, interval: readonly [number, number], pole: { at: number; off: number }) {
  let sum = 0;
  let count = 0;
  visitNodes(interval, pole, (x, weight) => {
    sum += weight * f(x);
    count++;
  });
  return { sum, count };
}

describe("nodes drawn toward a pole", () => {
  it("a Lorentzian of any width, within rounding", () => {
    for (const off of [1e-6, 1e-3, 0.3, 5]) {
      const { sum } = integral((x) => off / (x * x + off * off), [-1, 2], { at: 0, off });
      expect(sum).toBeCloseTo(Math.atan(2 / off) + Math.atan(1 / off), 12);
    }
  });

  it("a logarithm at an end: ∫ ln x over [0, 1] is −1", () => {
    expect(integral(Math.log, [0, 1], { at: 0, off: 0 }).sum).toBeCloseTo(-1, 13);
  });

  it("takes few nodes where the pole is far", () => {
    const { sum, count } = integral((x) => 1 / (10 + x), [0, 1], { at: -10, off: 0 });
    expect(sum).toBeCloseTo(Math.log(1.1), 15);
    expect(count).toBeLessThanOrEqual(6);
  });

  it("visits nothing on an empty interval", () => {
    expect(integral(() => 1, [2, 2], { at: 0, off: 1 }).count).toBe(0);
    expect(integral(() => 1, [2, 1], { at: 0, off: 1 }).count).toBe(0);
  });
});
