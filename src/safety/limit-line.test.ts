import { describe, expect, it } from "vitest";
import { firstLimits, limitBands } from "./limit-band.js";
import { type ComparedValue, type LimitLine, limitLine } from "./limit-line.js";

const compared: ComparedValue = {
  class: "scan subject",
  quantity: "heating, whole body",
  axis: "z",
  bodyPart: "human-torso",
  kind: "specificAbsorptionRate",
  value: 1,
};
const reference = { source: "A", edition: "1", status: "read", caution: "none" } as const;
const line = (limit: number | null, changes: Partial<ComparedValue> = {}, source = "A"): LimitLine =>
  limitLine({ ...compared, ...changes }, { ...reference, source, limit });

describe("limitLine", () => {
  it("carries the ratio and the SI unit", () => {
    expect(line(4)).toMatchObject({ value: 1, limit: 4, ratio: 0.25, unit: "W/kg" });
    expect(line(4)).not.toHaveProperty("note");
  });

  it("says where nothing is published, without a number", () => {
    expect(line(null)).toMatchObject({ limit: null, ratio: null, note: "no published threshold in our sources" });
  });

  it("refuses values and limits that are none", () => {
    expect(() => line(4, { value: Number.NaN })).toThrow(/at heating, whole body: found NaN/);
    expect(() => line(4, { value: -1 })).toThrow(/found -1/);
    expect(() => line(0)).toThrow(/found a limit of 0; accepted: a finite limit above 0, or null/);
  });
});

describe("limitBands", () => {
  const verdict = (...limits: (number | null)[]) =>
    limitBands(limits.map((limit, i) => line(limit, {}, `source ${i}`)))[0].verdict;

  it("shows conflicting sources as an interval, and keeps those without a figure", () => {
    const [band] = limitBands([line(4, {}, "A"), line(2, {}, "B"), line(null, {}, "C")]);
    expect(band.ratio).toEqual({ low: 0.25, high: 0.5 });
    expect([band.sources, band.sourcesWithoutLimit]).toEqual([["A", "B"], ["C"]]);
  });

  it("has four verdicts and leaves the decision to others", () => {
    const decides = "; local codes, ethics approval and licensed practice decide";
    expect(verdict(4, 2)).toBe(`below every limit in our sources${decides}`);
    expect(verdict(2, 0.5)).toBe(`between the limits of our sources${decides}`);
    expect(verdict(0.9, 0.5)).toBe(`above every limit in our sources${decides}`);
    expect(verdict(null)).toBe(`no published threshold in our sources${decides}`);
  });

  it("counts a limit that is just reached as passed", () => {
    expect(verdict(1)).toMatch(/^above every limit/);
    expect(verdict(1, 2)).toMatch(/^between the limits/);
  });

  it("keeps quantities, axes, parts and classes apart, in order of appearance", () => {
    const bands = limitBands([
      line(2),
      line(2, { axis: "y" }),
      line(2, { quantity: "heating, head" }),
      line(2, { bodyPart: "human-head" }),
      line(2, { class: "staff" }),
      line(3),
    ]);
    expect(bands.length).toBe(5);
    expect(bands[0].ratio).toEqual({ low: 1 / 3, high: 0.5 });
  });
});

describe("firstLimits", () => {
  it("takes the largest upper ratio within each class and never compares classes", () => {
    const bands = limitBands([
      line(4),
      line(2, { quantity: "stimulation" }),
      line(0.1, { class: "staff", quantity: "stray field" }),
      line(null, { class: "animal", quantity: "stimulation" }),
    ]);
    const first = firstLimits(bands);
    expect(first["scan subject"]?.quantity).toBe("stimulation");
    expect(first.staff?.quantity).toBe("stray field");
    expect(first.animal).toBeUndefined(); // nothing is published: no limit can be reached first
  });
});
