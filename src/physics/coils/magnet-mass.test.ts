import { describe, expect, it } from "vitest";
import { gradientOfSources } from "../sources/gradient-of-sources.js";
import { halbachSectors } from "../sources/halbach.js";
import type { BlockSource, RingSectorSource } from "../sources/source.js";
import { magnetMass_kg, magnetVolume_m3 } from "./magnet-mass.js";

const block: BlockSource = { kind: "block", center_m: [0, 0, 0], size_m: [0.01, 0.02, 0.05], remanence_T: [0, 0, 1.3] };
const ring: RingSectorSource = {
  kind: "ring-sector",
  center_m: [0, 0, 0],
  axis: [0, 0, 1],
  reference: [1, 0, 0],
  innerRadius_m: 0.03,
  outerRadius_m: 0.05,
  length_m: 0.1,
  fromAngle_rad: 0,
  toAngle_rad: 2 * Math.PI,
  remanence_T: [1.3, 0, 0],
};

describe("mass of magnets", () => {
  it("a block of 1 x 2 x 5 cm is 10 cm3, 75 g", () => {
    expect(magnetMass_kg([block])).toBeCloseTo(0.075, 15);
    expect(magnetMass_kg([block, block], { density_kg_per_m3: 5000 })).toBeCloseTo(0.1, 15);
    expect(magnetMass_kg([])).toBe(0);
  });
  it("a ring is π·(Ro² − Ri²)·l, and its sectors add up to it", () => {
    expect(magnetVolume_m3(ring)).toBeCloseTo(Math.PI * 0.0016 * 0.1, 15);
    const sectors = Array.from({ length: 8 }, (_, i) => ({
      ...ring,
      fromAngle_rad: (i * Math.PI) / 4,
      toAngle_rad: ((i + 1) * Math.PI) / 4,
    }));
    expect(magnetMass_kg(sectors) / magnetMass_kg([ring])).toBeCloseTo(1, 12);
  });
  it("grows with the cube of the size", () => {
    const double = { ...block, size_m: [0.02, 0.04, 0.1] as const };
    expect(magnetMass_kg([double]) / magnetMass_kg([block])).toBeCloseTo(8, 12);
  });
  it("at a fixed shape the gradient goes with Br/a while the mass goes with a³", () => {
    const quadrupole = (scale: number, remanence_T: number) =>
      halbachSectors({
        poles: 4,
        segments: 8,
        remanence_T,
        innerRadius_m: 0.03 * scale,
        outerRadius_m: 0.05 * scale,
        length_m: 0.1 * scale,
      });
    const gradient = (scale: number, remanence_T: number) =>
      gradientOfSources(quadrupole(scale, remanence_T), [0, 0, 0])[0];
    // Scaling by powers of two is exact; the gradient's differences are good to 1e-9.
    expect(gradient(2, 1.3) / gradient(1, 1.3)).toBeCloseTo(0.5, 8);
    expect(gradient(1, 0.65) / gradient(1, 1.3)).toBeCloseTo(0.5, 8);
    expect(magnetMass_kg(quadrupole(2, 1.3)) / magnetMass_kg(quadrupole(1, 1.3))).toBeCloseTo(8, 12);
  });
  it.each<[string, () => unknown, RegExp]>([
    ["a negative edge", () => magnetMass_kg([{ ...block, size_m: [0.01, -0.02, 0.05] }]), /size_m/],
    ["radii in the wrong order", () => magnetMass_kg([{ ...ring, outerRadius_m: 0.02 }]), /outerRadius_m/],
    ["more than a turn", () => magnetMass_kg([{ ...ring, toAngle_rad: 7 }]), /at most one turn/],
    ["no density", () => magnetMass_kg([block], { density_kg_per_m3: 0 }), /density/],
  ])("refuses %s", (_, act, message) => expect(act).toThrow(message));
});
