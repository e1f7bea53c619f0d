import { describe, expect, it } from "vitest";
import { conductorMaterials, resistivityAt_Ohm_m } from "./conductors.js";

const { copper, aluminium } = conductorMaterials;

describe("resistivity", () => {
  it("is the tabulated one at 20 degrees, and rises with temperature", () => {
    expect(resistivityAt_Ohm_m(copper, 293.15)).toBe(1.7241e-8);
    // 60 K above: 1 + 0.00393·60 = 1.2358.
    expect(resistivityAt_Ohm_m(copper, 353.15) / 1.7241e-8).toBeCloseTo(1.2358, 12);
    expect(resistivityAt_Ohm_m(aluminium, 293.15) / resistivityAt_Ohm_m(copper, 293.15)).toBeCloseTo(1 / 0.61, 3);
  });
  it("takes the user's own values", () => {
    const own = { ...copper, name: "alloy", resistivity_Ohm_m: 2e-8, temperatureCoefficient_per_K: 0 };
    expect(resistivityAt_Ohm_m(own, 400)).toBe(2e-8);
  });
  it.each<[string, () => unknown, RegExp]>([
    ["a negative resistivity", () => resistivityAt_Ohm_m({ ...copper, resistivity_Ohm_m: -1e-8 }, 300), /above 0/],
    ["a negative temperature", () => resistivityAt_Ohm_m(copper, -5), /temperature_K/],
    ["a temperature where the line crosses zero", () => resistivityAt_Ohm_m(copper, 20), /straight line of copper/],
    [
      "a coefficient that is no number",
      () => resistivityAt_Ohm_m({ ...copper, temperatureCoefficient_per_K: Number.NaN }, 300),
      /0 or above/,
    ],
  ])("refuses %s", (_, act, message) => expect(act).toThrow(message));
});
