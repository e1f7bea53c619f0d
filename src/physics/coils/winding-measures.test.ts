import { describe, expect, it } from "vitest";
import { conductorMaterials } from "./conductors.js";
import { sourcesOfCoil, type Winding } from "./winding.js";
import { measureWinding, windingResistance_Ohm } from "./winding-measures.js";

const stack: Winding = {
  shape: {
    kind: "coil-stack",
    center_m: [0, 0, 0],
    normal: [0, 0, 1],
    innerRadius_m: 0.05,
    outerRadius_m: 0.06,
    length_m: 0.1,
  },
  turns: 200,
  material: conductorMaterials.copper,
  conductor: { fillFactor: 0.5 },
};
const loop: Winding = {
  ...stack,
  shape: { kind: "loop", center_m: [0, 0, 0], normal: [0, 0, 1], radius_m: 0.1 },
  turns: 5,
  conductor: { metalArea_m2: 2e-6 },
  bundleRadius_m: 3e-3,
};
const rectangle: Winding = {
  ...loop,
  shape: { kind: "rectangle", center_m: [0, 0, 0], normal: [0, 0, 1], edge: [1, 0, 0], size_m: [0.2, 0.1] },
};
const change = (winding: Winding, shape: object): Winding => ({ ...winding, shape: { ...winding.shape, ...shape } });

describe("winding", () => {
  it("fills its section: 0.5 of 10 mm x 100 mm in 200 turns is 2.5 mm2 each", () => {
    const { conductorLength_m, section_m2, metalArea_m2, fillFactor, metalVolume_m3, mass_kg } = measureWinding(stack);
    expect(section_m2).toBeCloseTo(1e-3, 15);
    expect(metalArea_m2).toBeCloseTo(2.5e-6, 15);
    expect(fillFactor).toBeCloseTo(0.5, 12);
    expect(conductorLength_m).toBeCloseTo(200 * 2 * Math.PI * 0.055, 10);
    // Pappus: the metal is half of the ring π·(0.06² − 0.05²)·0.1.
    expect(metalVolume_m3).toBeCloseTo(0.5 * Math.PI * 0.0011 * 0.1, 12);
    expect(mass_kg / metalVolume_m3).toBeCloseTo(8890, 8);
  });
  it("gives the resistance of its wire: ρ·length/area", () => {
    expect(windingResistance_Ohm(stack, 293.15)).toBeCloseTo((1.7241e-8 * 69.115038) / 2.5e-6, 8);
    expect(windingResistance_Ohm(loop, 293.15)).toBeCloseTo((1.7241e-8 * Math.PI) / 2e-6, 12);
    expect(windingResistance_Ohm(rectangle, 293.15)).toBeCloseTo((1.7241e-8 * 3) / 2e-6, 12);
  });
  it("takes metal given by its area, also in a thin sheet", () => {
    expect(measureWinding({ ...stack, conductor: { metalArea_m2: 3e-6 } }).fillFactor).toBeCloseTo(0.6, 12);
    const sheet = { ...change(stack, { outerRadius_m: 0.05 }), conductor: { metalArea_m2: 1e-6 } };
    expect(measureWinding(sheet)).toMatchObject({ fillFactor: null, section_m2: 0, metalArea_m2: 1e-6 });
  });
  it("becomes a source of ampere-turns with its sense", () => {
    const sources = sourcesOfCoil({ windings: [stack, { ...loop, sense: -1 }] }, 3);
    expect(sources.map(({ kind, current_A }) => [kind, current_A])).toEqual([
      ["coil-stack", 600],
      ["loop", -15],
    ]);
  });

  it.each<[string, Winding, RegExp]>([
    ["negative turns", { ...stack, turns: -1 }, /turns: found -1/],
    ["a fill above 1", { ...stack, conductor: { fillFactor: 1.1 } }, /from 0 to 1/],
    ["no fill", { ...stack, conductor: { fillFactor: 0 } }, /above 0/],
    ["more metal than section", { ...stack, conductor: { metalArea_m2: 6e-6 } }, /fits its section/],
    ["more wire than its bundle holds", { ...loop, turns: 50 }, /fits its section/],
    ["a negative area", { ...stack, conductor: { metalArea_m2: -1e-6 } }, /metalArea_m2/],
    ["a fill of a thin sheet", change(stack, { outerRadius_m: 0.05 }), /no section to fill/],
    ["radii in the wrong order", change(stack, { outerRadius_m: 0.04 }), /inner radius or more/],
    ["no length", change(stack, { length_m: 0 }), /length_m/],
    ["a disc without length", change(stack, { length_m: 1e-8 }), /1e-5 of the outer radius/],
    ["a loop without bundle", { ...loop, bundleRadius_m: undefined }, /bundleRadius_m/],
    ["a bundle that closes its loop", { ...loop, bundleRadius_m: 0.1 }, /no opening/],
    ["a normal of length 2", change(loop, { normal: [0, 0, 2] }), /unit vector/],
    ["an edge along the normal", change(rectangle, { edge: [0, 0, 1] }), /across the normal/],
    ["a negative side", change(rectangle, { size_m: [0.2, -0.1] }), /size_m/],
    ["a strand of nothing", { ...stack, strandDiameter_m: 0 }, /strandDiameter_m/],
    [
      "a negative resistivity",
      { ...stack, material: { ...stack.material, resistivity_Ohm_m: -1 } },
      /resistivity_Ohm_m/,
    ],
  ])("refuses %s", (_, winding, message) => expect(() => measureWinding(winding)).toThrow(message));
});
