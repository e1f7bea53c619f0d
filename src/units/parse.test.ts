import { describe, expect, it } from "vitest";
import { FerruleError } from "../errors.js";
import { parseUnit } from "./grammar.js";
import type { QuantityKind } from "./kinds.js";
import { quantityKinds } from "./kinds.js";
import { parseQuantity } from "./parse.js";

const kinds = Object.entries(quantityKinds) as [QuantityKind, { siUnit: string; example: string }][];

describe("parseQuantity", () => {
  it.each(kinds)("takes the example and the SI unit of %s", (kind, { siUnit, example }) => {
    expect(parseQuantity(example, kind)).toBeGreaterThan(0);
    if (kind !== "fraction" && kind !== "dimensionless") expect(parseQuantity(`1 ${siUnit}`, kind)).toBe(1);
    expect(parseUnit(siUnit).factor).toBe(1);
  });

  /** Values written as the decimal number meant: equality is exact, powers of ten must not add rounding. */
  const exact: ReadonlyArray<readonly [string, QuantityKind, number]> = [
    ["25 nm", "length", 2.5e-8],
    ["25nm", "length", 2.5e-8],
    ["0.2 mL", "volume", 2e-7],
    ["10 µs", "time", 1e-5],
    ["10 μs", "time", 1e-5],
    ["10 us", "time", 1e-5],
    ["2 min", "time", 120],
    ["1 d", "time", 86400],
    ["2.5 MS/s", "samplingRate", 2.5e6],
    ["2.5 MHz", "samplingRate", 2.5e6],
    ["1e3 mT", "appliedField", 1],
    ["+5 mT", "appliedField", 0.005],
    ["5mT", "appliedField", 0.005],
    [" 5 mT ", "appliedField", 0.005],
    ["5\u00a0mT", "appliedField", 0.005],
    [".5 mT", "appliedField", 0.0005],
    ["200 G", "appliedField", 0.02],
    ["20 mT/mu0", "appliedField", 0.02],
    ["20 mT/µ0", "appliedField", 0.02],
    ["20 mT/[mu_0]", "appliedField", 0.02],
    ["-3.5 T/m", "fieldGradient", -3.5],
    ["−3.5 T/m", "fieldGradient", -3.5],
    ["5.7 T/m/mu0", "fieldGradient", 5.7],
    ["0.57 G/um", "fieldGradient", 57],
    ["37 Cel", "temperature", 310.15],
    ["37 °C", "temperature", 310.15],
    ["-273.15 °C", "temperature", 0],
    ["92 emu/g", "massMagnetisation", 92],
    ["446 emu/cm3", "magnetisation", 446e3],
    ["3.6e-15 emu", "magneticMoment", 3.6e-18],
    ["5 mg/mL", "massConcentration", 5],
    ["5 g/L", "massConcentration", 5],
    ["2 mg/kg", "massRatio", 2e-6],
    ["5 ug/g", "massRatio", 5e-6],
    ["5 %", "fraction", 0.05],
    ["5%", "fraction", 0.05],
    ["30 ppm", "fraction", 3e-5],
    ["0.7", "fraction", 0.7],
    ["2", "dimensionless", 2],
    ["-1.5e2", "dimensionless", -150],
    ["0.89 cP", "viscosity", 0.00089],
    ["1 mCi", "activity", 3.7e7],
    ["0 mT", "appliedField", 0],
  ];
  it.each(exact)("reads %s as %s", (text, kind, value) => {
    expect(parseQuantity(text, kind)).toBe(value);
  });

  /** Relative, 1e-9: mu0 is 1.3e-10 below 4 pi 1e-7, which these hand values use. */
  const byMu0: ReadonlyArray<readonly [string, QuantityKind, number]> = [
    ["200 Oe", "appliedField", 0.02],
    ["15.915494309 kA/m", "appliedField", 0.02],
    ["7.957747155e5 A/m2", "fieldGradient", 1],
    ["0.6 T/mu0", "magnetisation", 477464.8293],
  ];
  it.each(byMu0)("converts %s (%s) by mu0", (text, kind, value) => {
    expect(Math.abs(parseQuantity(text, kind) / value - 1)).toBeLessThan(1e-9);
  });

  it("takes a JSON number only where no unit is due", () => {
    expect(parseQuantity(2, "dimensionless")).toBe(2);
    expect(parseQuantity(1e-7, "fraction")).toBe(1e-7);
    expect(() => parseQuantity(20, "appliedField")).toThrow(/found 20 without a unit.*"20 mT"/);
    expect(() => parseQuantity(Number.NaN, "dimensionless")).toThrow(/finite/);
  });

  /** Text, kind, what the message must say. */
  const refusals: ReadonlyArray<readonly [string, QuantityKind, RegExp]> = [
    ["20", "appliedField", /without a unit/],
    ["5", "angle", /30 deg/],
    ["0.6 T", "magnetisation", /0\.6 T\/mu0/],
    ["60 emu/g", "magnetisation", /density/],
    ["446 kA/m", "massMagnetisation", /density/],
    ["5 mm", "appliedField", /20 mT/],
    ["5 T", "fieldGradient", /5\.7 T\/m/],
    ["5 kA/m", "fieldGradient", /5\.7 T\/m/],
    ["5 A/m2", "appliedField", /20 mT/],
    ["5 A/m/s", "fieldRate", /20 T\/s/],
    ["5 mM", "molarConcentration", /mmol\/L/],
    ["5 mmol/L", "massConcentration", /0\.055845/],
    ["5 mg/mL", "molarConcentration", /17\.907/],
    ["5 rad/s", "frequency", /2 pi/],
    ["5 kBq", "frequency", /25 kHz/],
    ["5 MS/s", "frequency", /25 kHz/],
    ["5 kHz", "activity", /Bq or Ci/],
    ["5 kcps", "activity", /count rate/],
    ["5 Gy", "doseEquivalent", /Sv/],
    ["5 J/kg", "doseEquivalent", /Sv/],
    ["5 Sv/s", "specificAbsorptionRate", /2 W\/kg/],
    ["2.5 mS/s", "samplingRate", /S\/s/],
    ["5 %", "angle", /deg or rad/],
    ["5 deg", "fraction", /5 %/],
    ["5 mm/m", "fraction", /5 %/],
    ["5 mg/kg", "fraction", /5 %/],
    ["5 %", "massRatio", /mg\/kg/],
    ["5 mm/m", "massRatio", /2 mg\/kg/],
    ["5", "massRatio", /without a unit/],
    ["5 ug Fe", "mass", /field's name/],
    ["2,5 mT", "appliedField", /decimal point/],
    ["1,234.5 mT", "appliedField", /decimal point/],
    ["1 234 mT", "appliedField", /without separators/],
    ["1'234 mT", "appliedField", /without separators/],
    ["1_234 mT", "appliedField", /without separators/],
    ["Infinity T", "appliedField", /finite/],
    ["-inf T", "appliedField", /finite/],
    ["NaN T", "appliedField", /finite/],
    ["1e999 T", "appliedField", /finite/],
    ["1e308 kA", "current", /outside the range/],
    ["1e-400 T", "appliedField", /too small/],
    ["1e-323 pA", "current", /outside the range/],
    ["-1 K", "temperature", /absolute zero/],
    ["-300 Cel", "temperature", /absolute zero/],
    ["", "mass", /empty/],
    ["mT", "appliedField", /starts with its number/],
    ["about 5 mT", "appliedField", /starts with its number/],
    ["5 ± 1 mT", "appliedField", /20 mT/],
    ["5-6 mT", "appliedField", /20 mT/],
    ["0x10 mT", "appliedField", /20 mT/],
    ["2.5.1 mT", "appliedField", /20 mT/],
    ["2 x 10^3 mT", "appliedField", /1e3/],
    ["20 mTpp", "appliedField", /peak/],
    ["5 mt", "appliedField", /mT/],
  ];
  it.each(refusals)("refuses %s as %s", (text, kind, message) => {
    let error: unknown;
    try {
      parseQuantity(text, kind, { file: "study.json", line: 4, column: 12, path: "scanner.bore" });
    } catch (caught) {
      error = caught;
    }
    if (!(error instanceof FerruleError)) throw error ?? new Error("nothing was refused");
    expect(error.message).toMatch(/^study\.json:4:12 at scanner\.bore: found /);
    expect(error.message).toMatch(message);
    expect(error.accepted).toContain(quantityKinds[kind].example);
  });

  it.each(["1", "2.5", "0.1", "123456.789012345", "9.99999999999999", "-7.7"])(
    "reads %s nm as the decimal meant",
    (digits) => {
      expect(parseQuantity(`${digits} nm`, "length")).toBe(Number(`${digits}e-9`));
    },
  );
});
