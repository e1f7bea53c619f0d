import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import * as units from "../../src/units/index.js";

interface Truth {
  readonly factors: ReadonlyArray<{ ours: string; theirs: string; factor: number }>;
  readonly temperatures: ReadonlyArray<{ degreeCelsius: number; kelvin: number }>;
  readonly constants: Readonly<Record<string, number>>;
}
interface Published {
  readonly rows: ReadonlyArray<{ from: string; kind?: units.QuantityKind; to: string; printed: string }>;
  readonly iron: ReadonlyArray<{ what: string; printed: string }>;
}

const truth = load<Truth>("truth.json");
const published = load<Published>("published.json");

describe("factors of a general-purpose unit library", () => {
  /**
   * 1e-9 where CGS is converted through mu0 there (it carries CODATA mu0 into the gauss, 6.6e-11 off 1e-4 T; UCUM
   * and we fix 1 G = 1e-4 T and 1 Oe = 250/pi A/m). 1e-14 elsewhere: a few roundings of products in two orders; mu0 itself
   * is given to 12 digits here and derived with more there, 1e-11.
   */
  function tolerance(theirs: string): number {
    if (/oersted|gauss/.test(theirs)) return 1e-9;
    return theirs.includes("mu_0") ? 1e-11 : 1e-14;
  }

  it.each(truth.factors)("$ours is $factor ($theirs)", ({ ours, theirs, factor }) => {
    expect(Math.abs(units.fromUnit(1, ours) / factor - 1)).toBeLessThan(tolerance(theirs));
  });

  it("has every sample", () => {
    expect(truth.factors).toHaveLength(31);
    expect(truth.temperatures).toHaveLength(4);
  });

  it.each(truth.temperatures)("$degreeCelsius Cel is $kelvin K", ({ degreeCelsius, kelvin }) => {
    expect(units.parseQuantity(`${degreeCelsius} Cel`, "temperature")).toBe(kelvin);
  });
});

describe("constants of CODATA 2022", () => {
  const ours = new Map<string, unknown>(Object.entries(units));
  it.each(Object.entries(truth.constants))("%s is %d, to the last printed digit", (name, value) => {
    expect(ours.get(name)).toBe(value);
  });
});

describe("printed conversions", () => {
  it.each(published.rows)("$from is $printed $to", ({ from, kind, to, printed }) => {
    const [, number, unit] = /^(\S+) (.+)$/.exec(from)!;
    const value = units.toUnit(units.fromUnit(Number(number), unit!, kind), to, kind);
    expect(Math.abs(value - Number(printed))).toBeLessThanOrEqual(halfOfLastDigit(printed));
  });

  const iron: Readonly<Record<string, number>> = {
    "molar mass Fe3O4, g/mol": units.toUnit(units.magnetiteMolarMass_kg_per_mol, "g/mol"),
    "molar mass Fe2O3, g/mol": units.toUnit(units.maghemiteMolarMass_kg_per_mol, "g/mol"),
    "iron mass fraction Fe3O4": units.ironMassFraction.magnetite,
    "iron mass fraction Fe2O3": units.ironMassFraction.maghemite,
    "1 mmol/L Fe in ug/mL": units.toUnit(units.fromUnit(1, "mmol/L") * units.ironMolarMass_kg_per_mol, "ug/mL"),
    "50 umol/kg Fe in mg/kg": units.toUnit(units.fromUnit(50, "umol/kg") * units.ironMolarMass_kg_per_mol, "mg/kg"),
  };
  it.each(published.iron)("$what is $printed", ({ what, printed }) => {
    expect(Math.abs(iron[what] - Number(printed))).toBeLessThanOrEqual(halfOfLastDigit(printed));
  });
});

/** Half a unit of the last printed digit, and one rounding of the double. */
function halfOfLastDigit(printed: string): number {
  const [mantissa, exponent = "0"] = printed.split("e");
  const decimals = mantissa!.split(".")[1]?.length ?? 0;
  return 0.5 * 10 ** (Number(exponent) - decimals) + Number.EPSILON * Math.abs(Number(printed));
}

function load<T>(name: string): T {
  return JSON.parse(readFileSync(new URL(name, import.meta.url), "utf8")) as T;
}
