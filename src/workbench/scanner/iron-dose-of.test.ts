import { describe, expect, it } from "vitest";
import { idealScanner } from "../../../test/invented-scanners.js";
import { isKnownError } from "../../errors.js";
import { ironDoseOf } from "./iron-dose-of.js";

const mouse = idealScanner({ subject: { part: "mouse" } });

function refusal(run: () => unknown): { code: string; path: string | undefined } {
  try {
    run();
  } catch (error) {
    if (isKnownError(error)) return { code: error.code, path: error.place.path };
    throw error;
  }
  throw new Error("nothing was refused");
}

describe("an iron dose", () => {
  it("is a mass of Fe, or one per mass of body: facts P24, 0.29151 mg is 11.66 mg/kg at 25 g", () => {
    const mass = ironDoseOf({ ironDose: "0.29151 mg", bodyMass: "25 g" }, mouse);
    const perMass = ironDoseOf({ ironDose: "11.66 mg/kg", bodyMass: "25 g" }, mouse);
    expect(mass).toEqual({ species: "mouse", bodyMass_kg: 0.025, ironMass_kg: 0.29151e-6 });
    expect(perMass.ironMass_kg / mass.ironMass_kg).toBeCloseTo(1, 4);
    expect(ironDoseOf({ ironDose: "11.66 ug/g" }, mouse).ironMass_kg).toBeCloseTo(perMass.ironMass_kg, 15);
  });

  it("takes the mass that the document states, else a typical one; --body-mass before both", () => {
    const stated = idealScanner({ subject: { part: "rat", mass: "250 g" } });
    const massOf = (bodyMass?: string) => ironDoseOf({ ironDose: "1 mg", bodyMass }, stated).bodyMass_kg;
    expect(massOf()).toBe(0.25);
    expect(massOf("0.3 kg")).toBe(0.3);
    expect(ironDoseOf({ ironDose: "1 mg" }, mouse).bodyMass_kg).toBe(0.025);
  });

  it("is of the species in the bore: people in every human part, also when no subject is stated", () => {
    const speciesIn = (parts: Readonly<Record<string, unknown>>) =>
      ironDoseOf({ ironDose: "1 mg", bodyMass: "50 kg" }, idealScanner(parts)).species;
    expect(speciesIn({ subject: { part: "human-arm" } })).toBe("human");
    expect(speciesIn({ boreDiameter: "260 mm" })).toBe("human");
    expect(speciesIn({ boreDiameter: "100 mm" })).toBe("rat");
    expect(speciesIn({ subject: { part: "own", being: "person", radius: "20 mm" } })).toBe("human");
    expect(speciesIn({ subject: { part: "own", being: "animal", radius: "20 mm" } })).toBe("other animal");
  });

  it("is refused without a mass for an own part, in a wrong unit, and at or below zero", () => {
    const own = idealScanner({ subject: { part: "own", being: "animal", radius: "20 mm" } });
    expect(refusal(() => ironDoseOf({ ironDose: "1 mg" }, own))).toEqual({ code: "MissingFact", path: "--body-mass" });
    expect(refusal(() => ironDoseOf({ ironDose: "0 mg" }, mouse))).toEqual({
      code: "InvalidValue",
      path: "--iron-dose",
    });
    expect(refusal(() => ironDoseOf({ ironDose: "1 mg", bodyMass: "0 g" }, mouse)).path).toBe("--body-mass");
    expect(refusal(() => ironDoseOf({ ironDose: "1 mL" }, mouse)).path).toBe("--iron-dose");
  });
});
