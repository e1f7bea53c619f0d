import { describe, expect, it } from "vitest";
import { stencil } from "./point-deposit.js";

describe("weights that act like a point through box voxels", () => {
  it.each([
    [3.3, 9],
    [0.1, 9],
    [7.9, 9],
    [4, 9],
    [-0.4, 5],
  ])("at %f of %i voxels keep the moments 1, 0, -1/12, 0", (position, count) => {
    const { first, weights } = stencil(position, count);
    expect(first).toBeGreaterThanOrEqual(0);
    expect(first + weights.length).toBeLessThanOrEqual(count);
    const moment = (k: number) => weights.reduce((sum, w, i) => sum + w * (first + i - position) ** k, 0);
    [1, 0, -1 / 12, 0].forEach((wanted, k) => {
      expect(moment(k)).toBeCloseTo(wanted, 11);
    });
  });

  it("keeps what it can on a short axis", () => {
    const { weights } = stencil(0.2, 2);
    expect(weights[0] + weights[1]).toBeCloseTo(1, 14);
    expect(-0.2 * weights[0] + 0.8 * weights[1]).toBeCloseTo(0, 14);
  });
});
