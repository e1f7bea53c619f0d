import { describe, expect, it } from "vitest";
import { formatWithUncertainty, measuredFromSI } from "./measured.js";

describe("formatWithUncertainty", () => {
  it.each([
    [1.2, 0.08, "ug", "1.200 ± 0.080 µg (k = 1)"],
    [1.23456, 0.0996, "mT", "1.23 ± 0.10 mT (k = 1)"], // rounds up to the next decade
    [12345, 560, "1", "12350 ± 560 (k = 1)"],
    [0.5, 2, "ug", "0.5 ± 2.0 µg (k = 1)"],
    [-3.5, 0.012, "T/m", "-3.500 ± 0.012 T/m (k = 1)"],
    [3.6e-18, 8e-20, "A.m2", "(3.600 ± 0.080)e-18 A·m² (k = 1)"],
    [2.5e7, 1e5, "Hz", "(2.500 ± 0.010)e7 Hz (k = 1)"],
    [1.2, 0, "ug", "1.2 ± 0 µg (k = 1)"],
  ])("writes %d and %d %s", (value, standardUncertainty, unit, text) => {
    expect(formatWithUncertainty({ value, standardUncertainty, unit })).toBe(text);
  });

  it("takes one digit and what the mass is of", () => {
    const mass = { value: 1.2, standardUncertainty: 0.08, unit: "ug" };
    expect(formatWithUncertainty(mass, { uncertaintyDigits: 1, of: "Fe" })).toBe("1.20 ± 0.08 µg Fe (k = 1)");
  });

  it.each([-0.1, Number.NaN, Number.POSITIVE_INFINITY])("refuses an uncertainty of %d", (standardUncertainty) => {
    expect(() => formatWithUncertainty({ value: 1, standardUncertainty, unit: "ug" })).toThrow(/0 or more/);
  });
});

describe("measuredFromSI", () => {
  it("picks the unit by the larger of value and uncertainty", () => {
    expect(measuredFromSI(1.2e-9, 8e-11, { kind: "mass" })).toEqual({
      value: 1.2,
      standardUncertainty: 0.08,
      unit: "ug",
    });
    expect(measuredFromSI(1e-12, 8e-11, { kind: "mass" }).unit).toBe("ng");
    expect(measuredFromSI(-1.2e-9, 8e-11, { kind: "mass" }).unit).toBe("ug");
  });
  it("does not shift an uncertainty by the zero of the Celsius scale", () => {
    const { value, standardUncertainty } = measuredFromSI(310.15, 0.5, { kind: "temperature", unit: "Cel" });
    expect(value).toBeCloseTo(37, 12);
    expect(standardUncertainty).toBeCloseTo(0.5, 12);
  });
});
