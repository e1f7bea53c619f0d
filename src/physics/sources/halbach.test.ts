import { describe, expect, it } from "vitest";
import { integrate } from "../../numerics/index.js";
import { fieldAtPoint } from "./field-of-sources.js";
import { gradientOfSources } from "./gradient-of-sources.js";
import { halbachBlocks, halbachSectors } from "./halbach.js";
import { halbachField_T, halbachGradient_T_per_m } from "./halbach-centre.js";
import { halbachFieldFormula } from "./halbach-formula.js";

const size = { remanence_T: 1.3, innerRadius_m: 0.05, outerRadius_m: 0.1 };

describe("Halbach rings of sectors", () => {
  for (const segments of [4, 8, 16])
    it(`dipole of ${segments} sectors, 0.12 m and 40 m long: the closed form at the centre, along x`, () => {
      for (const length_m of [0.12, 40]) {
        const [x, y, z] = fieldAtPoint(halbachSectors({ ...size, poles: 2, segments, length_m }), [0, 0, 0]);
        expect(x / halbachField_T({ ...size, segments, length_m })).toBeCloseTo(1, 12);
        expect(Math.hypot(y, z)).toBeLessThan(1e-13);
      }
    });

  it("long: facts L8 and L9 times the segmentation, trap 13 (the ends of 40 m still cost 1e-5)", () => {
    const long = { ...size, length_m: 40, segments: 12 };
    const field = fieldAtPoint(halbachSectors({ ...long, poles: 2 }), [0, 0, 0])[0];
    expect(field / ((1.3 * Math.log(2) * Math.sin(Math.PI / 6)) / (Math.PI / 6))).toBeCloseTo(1, 5);
    const g = gradientOfSources(halbachSectors({ ...long, poles: 4 }), [0, 0, 0]);
    expect(g[0] / ((2 * 1.3 * (20 - 10) * Math.sin(Math.PI / 4)) / (Math.PI / 4))).toBeCloseTo(1, 5);
  });

  for (const segments of [5, 8, 16])
    it(`quadrupole of ${segments} sectors: +G along x, −G along y, 0 along the axis`, () => {
      const ring = { ...size, poles: 4, segments, length_m: 0.12 } as const;
      const g = gradientOfSources(halbachSectors(ring), [0, 0, 0]);
      const expected = halbachGradient_T_per_m(ring);
      expect(g[0] / expected).toBeCloseTo(1, 11);
      expect(g[4] / expected).toBeCloseTo(-1, 11);
      expect(Math.hypot(g[8], g[1], g[3], g[2], g[6], g[5], g[7]) / expected).toBeLessThan(1e-11);
      expect(Math.hypot(...fieldAtPoint(halbachSectors(ring), [0, 0, 0]))).toBeLessThan(1e-12);
    });

  it("the field angle turns the field of a dipole, and the axes of a quadrupole", () => {
    const ring = { ...size, segments: 16, length_m: 0.12, fieldAngle_rad: 0.6 };
    const [x, y] = fieldAtPoint(halbachSectors({ ...ring, poles: 2 }), [0, 0, 0]);
    expect(Math.atan2(y, x)).toBeCloseTo(0.6, 12);
    const g = gradientOfSources(halbachSectors({ ...ring, poles: 4 }), [0, 0, 0]);
    expect(Math.atan2(g[1], g[0])).toBeCloseTo(1.2, 10);
  });

  it("stands on any axis: about y with reference z the field is along z", () => {
    const ring = { ...size, poles: 2, segments: 12, length_m: 0.12, axis: [0, 1, 0], reference: [0, 0, 1] } as const;
    const [x, y, z] = fieldAtPoint(halbachSectors({ ...ring, center_m: [1, 2, 3] }), [1, 2, 3]);
    expect(z / halbachField_T(ring)).toBeCloseTo(1, 11);
    expect(Math.hypot(x, y)).toBeLessThan(1e-11);
  });

  it("refuses rings of too few sectors", () => {
    expect(() => halbachSectors({ ...size, poles: 2, segments: 3, length_m: 1 })).toThrow(/at least 4/);
    expect(() => halbachSectors({ ...size, poles: 4, segments: 4, length_m: 1 })).toThrow(/at least 5/);
  });
});

describe("Halbach rings of blocks", () => {
  it("small blocks on a circle: field and gradient of dipoles in the right directions", () => {
    // N dipoles at R: B = N·J·V/(4 pi)·(3/2)/R³ along the field, exact for points; G = N·J·V/(4 pi)·(15/4)/R⁴.
    const ring = { remanence_T: 1, count: 16, ringRadius_m: 0.1, blockSize_m: [1e-4, 1e-4, 1e-4] } as const;
    const strength = (16 * 1e-12) / (4 * Math.PI);
    for (const turn of ["radius", "magnetisation"] as const) {
      const [x, y] = fieldAtPoint(halbachBlocks({ ...ring, poles: 2, turn }), [0, 0, 0]);
      expect(x / ((1.5 * strength) / 1e-3)).toBeCloseTo(1, 9);
      expect(Math.abs(y / x)).toBeLessThan(1e-12);
      const g = gradientOfSources(halbachBlocks({ ...ring, poles: 4, turn }), [0, 0, 0]);
      expect(g[0] / ((3.75 * strength) / 1e-4)).toBeCloseTo(1, 9);
      expect(g[4] / g[0]).toBeCloseTo(-1, 9);
    }
  });

  it("edges lie along the radius, or along the magnetisation", () => {
    const ring = { poles: 2, remanence_T: 1, count: 8, ringRadius_m: 0.1, blockSize_m: [0.01, 0.02, 0.03] } as const;
    const byRadius = halbachBlocks(ring)[1];
    expect(byRadius.edges?.[0][0]).toBeCloseTo(Math.SQRT1_2, 15);
    const byMagnetisation = halbachBlocks({ ...ring, turn: "magnetisation" })[1];
    expect(byMagnetisation.edges?.[0].map((part) => Math.abs(part) < 1e-15)).toEqual([true, false, true]);
    expect(byMagnetisation.edges?.[0]).toEqual(byMagnetisation.remanence_T);
  });
});

describe("closed forms at the centre", () => {
  const h = 0.06;

  it("field: the integral of facts L10", () => {
    const density = (r: number) => (h * (2 * h * h + 3 * r * r)) / (r * (r * r + h * h) ** 1.5);
    const expected = (1.3 / 2) * integrate(density, [0.05, 0.1], { relative: 1e-13 }).value;
    expect(halbachField_T({ ...size, length_m: 2 * h }) / expected).toBeCloseTo(1, 12);
  });

  it("gradient: (15/8) Br ∫∫ r⁴/R⁷ dr dz", () => {
    const column = (r: number) => integrate((z) => r ** 4 / (r * r + z * z) ** 3.5, [-h, h], { relative: 1e-12 }).value;
    const expected = (15 / 8) * 1.3 * integrate(column, [0.05, 0.1], { relative: 1e-11 }).value;
    expect(halbachGradient_T_per_m({ ...size, length_m: 2 * h }) / expected).toBeCloseTo(1, 11);
  });

  it("long rings tend to the two-dimensional limits", () => {
    expect(halbachField_T({ ...size, length_m: 1e4 }) / halbachField_T(size)).toBeCloseTo(1, 8);
    expect(halbachGradient_T_per_m({ ...size, length_m: 1e4 }) / halbachGradient_T_per_m(size)).toBeCloseTo(1, 8);
  });

  it("the formula refuses other poles, radii in the wrong order, too few segments", () => {
    const inputs = { remanence: 1, "inner-radius": 0.05, "outer-radius": 0.1, length: 0, segments: 0, poles: 2 };
    expect(halbachFieldFormula.compute(inputs)).toEqual({ field: Math.log(2), gradient: 0 });
    expect(halbachFieldFormula.compute({ ...inputs, poles: 4 }).gradient).toBeCloseTo(20, 12);
    for (const wrong of [{ poles: 3 }, { "outer-radius": 0.05 }, { segments: 3 }, { segments: 8.5 }])
      expect(() => halbachFieldFormula.compute({ ...inputs, ...wrong })).toThrow(/accepted/);
  });
});
