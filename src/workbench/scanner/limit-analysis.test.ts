import { describe, expect, it } from "vitest";
import { idealScanner, shippedScanner } from "../../../test/invented-scanners.js";
import { limitAnalysis } from "./limit-analysis.js";

const ofClass = (analysis: ReturnType<typeof limitAnalysis>, name: string) =>
  analysis.bands.filter((band) => band.class === name);

describe("a mouse", () => {
  const analysis = limitAnalysis(shippedScanner("mouse-point"));
  const animal = analysis.lines.filter((line) => line.class === "animal");

  it("has no published threshold in our sources: exactly these words, and never a number", () => {
    expect(animal.length).toBeGreaterThan(4);
    for (const { limit, ratio, note, value } of animal) {
      expect({ limit, ratio, note }).toEqual({
        limit: null,
        ratio: null,
        note: "no published threshold in our sources",
      });
      expect(value).toBeGreaterThanOrEqual(0);
    }
    for (const { verdict } of ofClass(analysis, "animal"))
      expect(verdict).toMatch(/^no published threshold in our sources;/);
  });

  it("so nothing is reached first in its class; staff have a first limit of their own", () => {
    expect(Object.keys(analysis.first)).toEqual(["staff"]);
    expect(analysis.first.staff?.class).toBe("staff");
  });
});

describe("a head", () => {
  const analysis = limitAnalysis(shippedScanner("head-concept"));

  it("meets the first level of facts W26 at 25 kHz, 7.6 mT peak to peak", () => {
    // W26: 7.2 mT (1 + d/c) with d = 1/(2f) = 20 us and c = 0.36 ms, as a peak-to-peak change: 7.6 mT.
    const changes = analysis.lines.filter(
      ({ quantity, unit }) => quantity.startsWith("nerve stimulation (peak to peak), drive") && unit === "T",
    );
    expect(changes.map(({ limit }) => limit).some((limit) => Math.abs((limit ?? 0) - 7.6e-3) < 1e-9)).toBe(true);
    // 6 mT peak is 12 mT peak to peak.
    for (const { value } of changes) expect(value).toBeCloseTo(12e-3, 12);
  });

  it("keeps the classes apart: what staff meet is in class staff only", () => {
    const staff = ofClass(analysis, "staff").map(({ quantity }) => quantity);
    const subject = ofClass(analysis, "scan subject").map(({ quantity }) => quantity);
    expect(staff.length).toBeGreaterThan(0);
    for (const quantity of staff) expect(quantity).toMatch(/stray field|induced electric field/);
    for (const quantity of subject) expect(quantity).toMatch(/stimulation|heating/);
    expect(analysis.lines.filter(({ class: name }) => name === "animal")).toEqual([]);
  });

  it("names as first of each class the band of that class whose strictest source is reached furthest", () => {
    for (const name of ["scan subject", "staff"] as const) {
      const ratios = ofClass(analysis, name).flatMap(({ ratio }) => (ratio === null ? [] : [ratio.high]));
      expect(analysis.first[name]?.class).toBe(name);
      expect(analysis.first[name]?.ratio?.high).toBe(Math.max(...ratios));
    }
    // A stray field far above its level would still not bind the subject.
    expect(analysis.first["scan subject"]?.quantity).toMatch(/^nerve stimulation/);
  });
});

describe("what the document leaves out is said", () => {
  it("no place of staff, no slew, no coil", () => {
    const { advisories, lines } = limitAnalysis(
      idealScanner({ shiftFields: [{ axis: "x", range: "20 mT" }], subject: { part: "rat" } }),
    );
    expect(advisories).toEqual([
      "shift x states no slew: its nerve stimulation is not in the limits",
      "no place of staff is stated (staffDistance): stray fields are not in the limits",
    ]);
    expect(lines.filter(({ class: name }) => name === "staff")).toEqual([]);
  });

  it("an ideal selection field and a drive without a coil have no stray field", () => {
    const { advisories } = limitAnalysis(idealScanner({ staffDistance: "2 m", subject: { part: "rat" } }));
    expect(advisories).toContain("a drive without a coil has no stray field that could be computed");
    expect(advisories).toContain("an ideal selection field has no stray field that could be computed");
  });

  it("a bore along x turns the body's axes, and that is said", () => {
    const turned = limitAnalysis(idealScanner({ boreAxis: "x", subject: { part: "rat" } }));
    expect(turned.advisories[0]).toBe("limits name the body's axes: its z lies along the bore, x");
    // The scanner's z drive lies across the body: its y.
    expect(turned.lines[0].axis).toBe("y");
  });
});

it("an iron dose stands beside labelled doses of people, and beside published ones of animals without a limit", () => {
  const dose = { species: "human", bodyMass_kg: 70, ironMass_kg: 510e-6 } as const;
  const dosed = limitAnalysis(shippedScanner("head-concept"), { dose });
  const lines = dosed.lines.filter(({ quantity }) => quantity.startsWith("iron dose"));
  // However large, it is never the limit that the scanner reaches first.
  expect(dosed.first["scan subject"]?.quantity).toMatch(/^nerve stimulation/);
  // Facts P21: ferumoxytol is labelled at 510 mg Fe.
  expect(
    lines.some(({ limit, ratio }) => Math.abs((limit ?? 0) - 510e-6) < 1e-12 && Math.abs((ratio ?? 0) - 1) < 1e-9),
  ).toBe(true);
  const mouse = limitAnalysis(shippedScanner("mouse-point"), {
    dose: { species: "mouse", bodyMass_kg: 0.025, ironMass_kg: 0.29e-6 },
  }).lines.filter(({ quantity }) => quantity.startsWith("iron dose"));
  expect(mouse.length).toBeGreaterThan(0);
  expect(mouse.map(({ limit }) => limit)).toEqual(mouse.map(() => null));
});

describe("the place of staff", () => {
  it("inside or beside a coil is said; further out it is not", () => {
    // The rat scanner's magnets fill 76 to 126 mm on either side.
    const said = (staffDistance_m: number) =>
      limitAnalysis({ ...shippedScanner("rat-line"), staffDistance_m }).advisories.join();
    expect(said(0.1)).toContain("inside a coil or magnet");
    expect(said(0.15)).toContain("within a hand's width");
    expect(said(1.5)).not.toContain("staffDistance) lies");
  });

  it("is compared with levels for people at work only", () => {
    const staff = limitAnalysis(shippedScanner("head-concept")).lines.filter((line) => line.class === "staff");
    expect(staff.length).toBeGreaterThan(0);
    expect(staff.some(({ quantity }) => quantity.includes("public"))).toBe(false);
  });
});
