import Qty from "js-quantities";
import { describe, expect, it } from "vitest";
import { fromUnit } from "./convert.js";
import { parseUnit } from "./grammar.js";
import { parseQuantity } from "./parse.js";

/**
 * A general unit library as an oracle, in tests only and where it reads as people here mean it.
 * Its factors are doubles multiplied in another order: 1e-12 relative allows for that and shows any wrong power of ten.
 */
const units = [
  "m",
  "mm",
  "um",
  "nm",
  "pm",
  "cm",
  "km",
  "mm2",
  "cm3",
  "g",
  "kg",
  "mg",
  "ug",
  "ng",
  "pg",
  "s",
  "ms",
  "us",
  "ns",
  "min",
  "h",
  "d",
  "A",
  "mA",
  "kA",

  "mol",
  "mmol",
  "umol",
  "L",
  "mL",
  "uL",
  "nL",
  "dL",
  "Hz",
  "kHz",
  "MHz",
  "T",
  "mT",
  "uT",
  "nT",
  "G",
  "Oe",
  "V",
  "mV",
  "uV",
  "nV",
  "kV",
  "F",
  "pF",
  "nF",
  "H",
  "mH",
  "uH",
  "W",
  "mW",
  "kW",
  "J",
  "kJ",
  "mJ",
  "N",
  "mN",
  "Pa",
  "kPa",
  "MPa",
  "C",
  "Bq",
  "kBq",
  "MBq",
  "Ci",
  "Sv",
  "mSv",
  "Gy",
  "rad",
  "deg",
  "T/m",
  "mT/m",
  "kA/m",
  "mg/mL",
  "ug/mL",
  "mmol/L",
  "uL/min",
  "S/m",
  "V/m",
  "W/kg",
  "J/m3",
  "kg/m3",
  "1/h",
  "T/A",
  "Pa*s",
  "A*m2/kg",
  "%",
  "ppm",
  "cP",
];

describe("factors against a general unit library", () => {
  it.each(units)("%s", (unit) => {
    const theirs = new Qty(`1 ${unit}`).toBase().scalar;
    expect(Math.abs(fromUnit(1, unit) / theirs - 1)).toBeLessThan(1e-12);
  });
});

describe("why we have a table of our own (decision 0003): readings of the general library", () => {
  it('"2.5 MS/s" is taken for siemens per second', () => {
    expect(new Qty("2.5 MS/s").isCompatible("S/s")).toBe(true);
    expect(new Qty("2.5 MS/s").isCompatible("Hz")).toBe(false);
    expect(parseQuantity("2.5 MS/s", "samplingRate")).toBe(2.5e6);
  });

  it('"1 M" is taken for molar', () => {
    expect(new Qty("1 M").isCompatible("mol/m3")).toBe(true);
    expect(() => parseUnit("M")).toThrow(/mmol\/L/);
  });

  it('"1 emu/g" is not known', () => {
    expect(() => new Qty("1 emu/g")).toThrow();
    expect(parseQuantity("1 emu/g", "massMagnetisation")).toBe(1);
  });
});
