import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { vacuumPermeability_T_m_per_A } from "./constants.js";
import { fieldFromStrength, fromUnit, strengthFromField, toUnit } from "./convert.js";
import type { QuantityKind } from "./kinds.js";
import { quantityKinds } from "./kinds.js";
import { expandSymbols } from "./symbol-lookup.js";

const texts = expandSymbols().map(({ text }) => text);
const usual = fc.double({ min: -1e12, max: 1e12, noNaN: true }).filter((x) => x === 0 || Math.abs(x) > 1e-12);
const fifteenDigits = fc
  .tuple(fc.integer({ min: -999_999_999_999_999, max: 999_999_999_999_999 }), fc.integer({ min: -20, max: 6 }))
  .map(([mantissa, exponent]) => Number(`${mantissa}e${exponent}`));

describe("fromUnit and toUnit", () => {
  it("undo each other in every unit but degrees Celsius to 4 units in the last place", () => {
    // one rounding each way for the scale and one for the power of ten
    const scales = texts.filter((text) => !/^(Cel|°C|degC)$/.test(text));
    fc.assert(
      fc.property(usual, fc.constantFrom(...scales), (value, unit) => {
        expect(Math.abs(toUnit(fromUnit(value, unit), unit) - value)).toBeLessThanOrEqual(
          4 * 2 ** -52 * Math.abs(value),
        );
      }),
      { seed: 1, numRuns: 1000 },
    );
  });

  it("undo each other exactly for powers of ten and decimals of up to 15 digits", () => {
    fc.assert(
      fc.property(
        fifteenDigits,
        fc.constantFrom("nm", "mT", "ug/mL", "km", "fT", "kA/m", "MHz", "emu/cm3"),
        (value, unit) => {
          expect(toUnit(fromUnit(value, unit), unit)).toBe(value);
        },
      ),
      { seed: 2, numRuns: 1000 },
    );
  });

  it("undo each other on the Celsius scale to the rounding of 273.15 K", () => {
    fc.assert(
      fc.property(fc.double({ min: -273.15, max: 1000, noNaN: true }), (value) => {
        expect(Math.abs(toUnit(fromUnit(value, "Cel"), "Cel") - value)).toBeLessThan(1024 * 2 ** -52);
      }),
      { seed: 3 },
    );
  });

  it("keep decimals decimal", () => {
    expect(fromUnit(25, "nm")).toBe(2.5e-8);
    expect(25 * 1e-9).not.toBe(2.5e-8); // why the power of ten is kept apart
    expect(toUnit(2.5e-8, "nm")).toBe(25);
    expect(toUnit(0.00472339, "mT")).toBe(4.72339);
    expect(fromUnit(0, "nm")).toBe(0);
    expect(fromUnit(Number.NaN, "nm")).toBeNaN();
  });

  it("take field strengths for applied fields when told the kind, and only then", () => {
    expect(fromUnit(1, "kA/m")).toBe(1000);
    expect(fromUnit(1, "kA/m", "appliedField")).toBeCloseTo(1.25663706e-3, 11);
    expect(toUnit(0.02, "mT/mu0", "appliedField")).toBe(20);
    expect(toUnit(1e-3, "Oe", "appliedField")).toBeCloseTo(10, 8);
    expect(() => toUnit(1, "mm", "appliedField")).toThrow(/20 mT/);
  });

  it("are the identity in each kind's own SI unit", () => {
    for (const [kind, { siUnit }] of Object.entries(quantityKinds)) {
      expect(toUnit(1.25, siUnit === "1" ? "1" : siUnit, kind as QuantityKind)).toBe(1.25);
    }
  });
});

describe("field and field strength", () => {
  it("differ by mu0 and undo each other", () => {
    expect(fieldFromStrength(1)).toBe(vacuumPermeability_T_m_per_A);
    fc.assert(
      fc.property(usual, (value) => {
        expect(Math.abs(strengthFromField(fieldFromStrength(value)) - value)).toBeLessThanOrEqual(
          2 ** -52 * Math.abs(value),
        );
      }),
      { seed: 4 },
    );
  });
});
