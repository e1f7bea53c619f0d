import { describe, expect, it } from "vitest";
import { borePoint, intoBore, isInBore, placeInBore, reachInBore, requireBore } from "./bore-cylinder.js";

const bore = { radius_m: 0.03, halfLength_m: 0.05 };

describe("bore cylinder", () => {
  it("measures along its own axis, from its own centre", () => {
    const along = { ...bore, axis: "x", center_m: [0.01, 0, 0] } as const;
    expect(placeInBore(along, [0.04, 0.003, 0.004])).toEqual({ radial_m: 0.005, along_m: 0.03 });
    expect(borePoint(along, [0.003, 0.004, 0.03])).toEqual([0.04, 0.003, 0.004]);
    expect(isInBore(along, [0.0601, 0, 0])).toBe(false);
    expect(isInBore(along, [0.0601, 0, 0], 1.5)).toBe(true);
  });

  it("moves a point onto the nearest wall, and leaves one inside alone", () => {
    const [x, y, z] = intoBore(bore, [0.03, 0.04, 0.07]);
    [x - 0.018, y - 0.024, z - 0.05].forEach((value) => {
      expect(Math.abs(value)).toBeLessThan(1e-17);
    });
    expect(intoBore(bore, [0.01, 0, 0.02])).toEqual([0.01, 0, 0.02]);
  });

  it("knows how far a ray runs", () => {
    expect(reachInBore(bore, [0, 0, 0], [0, 0, -1])).toBe(0.05);
    expect(reachInBore(bore, [0.01, 0, 0], [1, 0, 0])).toBeCloseTo(0.02, 15);
    expect(reachInBore(bore, [0.01, 0, 0], [-1, 0, 0])).toBeCloseTo(0.04, 15);
    expect(reachInBore(bore, [0, 0, 0], [0.6, 0, 0.8])).toBeCloseTo(0.05, 15);
    expect(reachInBore(bore, [0.03, 0, 0], [1, 0, 0])).toBe(0);
  });

  it("refuses a cylinder without extent", () => {
    expect(() => requireBore({ radius_m: 0, halfLength_m: 1 })).toThrow(/two positive lengths/);
  });
});
