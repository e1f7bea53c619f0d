import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { isKnownError } from "../errors.js";
import { toUnit } from "./convert.js";
import { formatNumber, formatQuantity, unitForDisplay } from "./display.js";
import { displayUnits } from "./display-units.js";
import { parseUnit } from "./grammar.js";
import type { QuantityKind } from "./kinds.js";
import { quantityKinds } from "./kinds.js";
import { parseQuantity } from "./parse.js";

const kinds = Object.keys(quantityKinds) as QuantityKind[];

describe("formatQuantity", () => {
  it.each([
    [4.72339e-3, "appliedField", "4.723 mT"],
    [-3.5, "fieldGradient", "-3.500 T/m"],
    [9.9996e-4, "appliedField", "1.000 mT"], // rounded first, then the unit
    [9.9994e-4, "appliedField", "999.9 µT"],
    [2.5e-8, "length", "25.00 nm"],
    [9e-10, "voltageNoise", "900.0 pV/√Hz"],
    [50, "resistance", "50.00 Ω"],
    [92, "massMagnetisation", "92.00 A·m²/kg"],
    [3.6e-18, "magneticMoment", "3.600e-18 A·m²"],
    [0.05, "fraction", "5.000 %"],
    [2, "dimensionless", "2.000"],
    [0, "mass", "0 µg"],
    [2e-9 / 60, "flow", "2.000 µL/min"],
  ] as const)("writes %d (%s) as %s", (value, kind, text) => {
    expect(formatQuantity(value, kind)).toBe(text);
  });

  it("takes digits, a unit and what the mass is of", () => {
    expect(formatQuantity(1.2e-9, "mass", { digits: 3, of: "Fe" })).toBe("1.20 µg Fe");
    expect(formatQuantity(310.15, "temperature", { unit: "Cel" })).toBe("37.00 °C");
    expect(formatQuantity(446e3, "magnetisation", { unit: "T/mu0" })).toBe("0.5605 T/µ₀");
    expect(formatQuantity(0.02, "appliedField", { unit: "kA/m" })).toBe("15.92 kA/m");
    expect(() => formatQuantity(1, "mass", { digits: 0 })).toThrow(/1 to 17/);
    expect(() => formatQuantity(1, "mass", { unit: "mm" })).toThrow(/5 ug/);
  });

  it("is read back by parseQuantity to the digits shown, for every kind and sixteen decades", () => {
    const size = fc.tuple(fc.double({ min: 1, max: 9.99, noNaN: true }), fc.integer({ min: -12, max: 4 }));
    fc.assert(
      fc.property(fc.constantFrom(...kinds), size, (kind, [mantissa, exponent]) => {
        const value = mantissa * 10 ** exponent;
        // half a unit of the fourth digit: at most 5e-4 of a number that starts with 1
        expect(Math.abs(parseQuantity(formatQuantity(value, kind), kind) / value - 1)).toBeLessThan(5.001e-4);
      }),
      { seed: 5, numRuns: 1000 },
    );
  });

  it("has ascending display units for every kind, each admitted by the kind", () => {
    for (const kind of kinds) {
      const sizes = displayUnits[kind].split(" ").map((unit) => toUnit(1, unit, kind));
      expect(sizes, kind).toEqual([...sizes].sort((a, b) => b - a));
    }
  });
});

describe("formatNumber", () => {
  it.each([
    [1234.5, 4, "1235"],
    [12345, 4, "12350"],
    [1234567, 4, "1.235e6"],
    [0.0012, 3, "0.00120"],
    [1.2e-7, 2, "1.2e-7"],
    [-0, 4, "0"],
    [Number.POSITIVE_INFINITY, 4, "Infinity"],
  ])("writes %d at %d digits as %s", (value, digits, text) => {
    expect(formatNumber(value, digits)).toBe(text);
  });
  it("refuses half a digit", () => {
    try {
      formatNumber(1, 2.5);
      expect.unreachable();
    } catch (error) {
      expect(isKnownError(error, "InvalidValue")).toBe(true);
    }
  });
});

describe("unitForDisplay", () => {
  it.each([
    ["A.m2/kg", "A·m²/kg"],
    ["ug/mL", "µg/mL"],
    ["uL/min", "µL/min"],
    ["V/Hz^0.5", "V/√Hz"],
    ["kOhm", "kΩ"],
    ["T/m/mu0", "T/m/µ₀"],
    ["T/[mu_0]", "T/µ₀"],
    ["m-1.s^-2", "m⁻¹·s⁻²"],
    ["Cel", "°C"],
    ["1/h", "1/h"],
  ])("writes %s as %s, which reads the same", (unit, text) => {
    expect(unitForDisplay(unit)).toBe(text);
    const [before, after] = [parseUnit(unit), parseUnit(text)];
    expect({ ...after, text: "" }).toEqual({ ...before, text: "" });
  });
});
