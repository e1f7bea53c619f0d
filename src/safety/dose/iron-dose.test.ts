import { describe, expect, it } from "vitest";
import { limitBands } from "../limit-band.js";
import { ironDoseLimits } from "./iron-dose.js";

describe("ironDoseLimits, people", () => {
  const lines = (ironMass_kg: number, bodyMass_kg = 70) =>
    ironDoseLimits({ species: "human", ironMass_kg, bodyMass_kg });

  it("compares total iron with each label at this body mass", () => {
    const limits_mg = (bodyMass_kg: number) => lines(100e-6, bodyMass_kg).map(({ limit }) => (limit ?? 0) * 1e6);
    const expectMilligrams = (found: readonly number[], expected: readonly number[]) => {
      expect(found.length).toBe(expected.length);
      for (const [i, value] of found.entries()) expect(value).toBeCloseTo(expected[i], 10);
    };
    expectMilligrams(limits_mg(70), [510, 0.7 * 55.845, 0.7 * 55.845, 350]);
    expectMilligrams(limits_mg(50), [510, 0.45 * 55.845, 0.5 * 55.845, 250]);
    expectMilligrams(limits_mg(60), [510, 0.7 * 55.845, 0.6 * 55.845, 300]); // from 60 kg on, the larger volume
  });

  it("shows the labels' disagreement as an interval", () => {
    const [band] = limitBands(lines(100e-6));
    expect(band.verdict).toMatch(/^between the labelled doses of our sources; /);
    expect(band.ratio?.low).toBeCloseTo(100 / 510, 10);
    expect(band.ratio?.high).toBeCloseTo(100 / 39.0915, 10);
  });

  it("warns of hypersensitivity in every line", () => {
    for (const { caution } of lines(1e-6)) expect(caution).toMatch(/hypersensitivity.*licensed prescription/);
  });
});

describe("ironDoseLimits, animals", () => {
  it("shows doses of published work and no limit", () => {
    const [line, ...rest] = ironDoseLimits({ species: "mouse", ironMass_kg: 100e-9, bodyMass_kg: 20e-3 });
    expect(rest).toEqual([]);
    expect(line).toMatchObject({ class: "animal", kind: "massRatio", limit: null, ratio: null });
    expect(line.value).toBeCloseTo(5e-6, 15);
    expect(line.note).toBe("no published threshold in our sources");
    expect(line.caution).toMatch(/dose used in published work, not a limit: 11.66 mg\/kg Fe in a mouse/);
    expect(line.caution).toMatch(/veterinarian/);
  });

  it("shows all of them for another animal", () => {
    const lines = ironDoseLimits({ species: "other animal", ironMass_kg: 1e-6, bodyMass_kg: 3 });
    expect(lines.map(({ limit }) => limit)).toEqual([null, null, null]);
  });
});

it("refuses doses and bodies that cannot be", () => {
  expect(() => ironDoseLimits({ species: "mouse", ironMass_kg: 0, bodyMass_kg: 0.02 })).toThrow(/at ironMass_kg/);
  expect(() => ironDoseLimits({ species: "mouse", ironMass_kg: 0.1, bodyMass_kg: 0.02 })).toThrow(/far below/);
});
