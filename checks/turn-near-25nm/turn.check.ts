import { describe, expect, it } from "vitest";
import { combined, corners, diameters_nm, neel, staticWidth_mT, turn_nm, width_mT } from "./widths.js";

describe("the turn near 25 nm (Tay et al. 2017, abstract)", () => {
  const turns = corners.map(([anisotropy, shell]) => turn_nm(combined(anisotropy, shell)));

  it("the static width keeps falling over 18 to 32 nm: the cubic law knows no turn", () => {
    const widths = diameters_nm.map(staticWidth_mT);
    for (let i = 1; i < widths.length; i++) expect(widths[i]).toBeLessThan(widths[i - 1]);
    expect(widths[0] / widths[widths.length - 1]).toBeCloseTo((32 / 18) ** 3, 6);
  });

  it("added zero-field rates turn inside 18 to 32 nm everywhere in the frozen band, which contains 25 nm", () => {
    for (const turn of turns) {
      expect(turn).toBeGreaterThan(18);
      expect(turn).toBeLessThan(32);
    }
    expect(Math.min(...turns)).toBeLessThanOrEqual(25);
    expect(Math.max(...turns)).toBeGreaterThanOrEqual(25);
    // The middle of the band, fixed with it: 3 kJ/m3, 10 nm. One step of the grid is 1 nm.
    expect(Math.abs(turn_nm(combined(3e3, 10e-9)) - 25)).toBeLessThanOrEqual(1);
  });

  it("a Neel Fokker-Planck equation at the same anisotropy flattens, but does not turn", () => {
    const gain = (relaxation: Parameters<typeof width_mT>[1]) => width_mT(25, relaxation) / width_mT(32, relaxation);
    const flattened = gain(neel(4e3));
    expect(staticWidth_mT(25) / staticWidth_mT(32)).toBeCloseTo((32 / 25) ** 3, 6);
    expect(flattened).toBeGreaterThan(1);
    expect(flattened).toBeLessThan(1.5);
  });
});
