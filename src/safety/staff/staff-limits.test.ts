import { describe, expect, it } from "vitest";
import { limitBands } from "../limit-band.js";
import { basicRestriction_V_per_m, referenceLevel_T, workersPeakField_V_per_m } from "./reference-levels.js";
import { type StrayField, staffLimits } from "./staff-limits.js";

const console_: StrayField = { place: "console", amplitude_T: 27e-6 * Math.SQRT2, frequency_Hz: 25e3 };
const levels = (stray: readonly StrayField[]) =>
  staffLimits({ stray }).filter(({ quantity }) => quantity.startsWith("stray field (rms)"));

describe("ICNIRP 2010 levels", () => {
  it("fall as 1/f up to 3 kHz and stay there, occupational above public", () => {
    expect(referenceLevel_T(300, "occupational")).toBeCloseTo(1e-3, 15);
    expect(referenceLevel_T(400, "public")).toBeCloseTo(0.2e-3, 15);
    expect(referenceLevel_T(25e3, "occupational")).toBe(0.1e-3);
    expect(referenceLevel_T(25e3, "public")).toBe(0.027e-3);
  });

  it("say nothing outside the frequencies of our sources", () => {
    expect([referenceLevel_T(299, "occupational"), referenceLevel_T(399, "public")]).toEqual([null, null]);
    expect([referenceLevel_T(11e6, "public"), basicRestriction_V_per_m(50, "public")]).toEqual([null, null]);
    expect(workersPeakField_V_per_m(0.5)).toBeNull();
    expect(() => referenceLevel_T(0, "public")).toThrow(/a static field is given as staticStray/);
  });

  it("W28: 6.75 and 3.375 V/m rms at 25 kHz; the workers' peak rule is sqrt 2 of it within its two digits", () => {
    expect(basicRestriction_V_per_m(25e3, "occupational")).toBeCloseTo(6.75, 12);
    expect(basicRestriction_V_per_m(25e3, "public")).toBeCloseTo(3.375, 12);
    expect((workersPeakField_V_per_m(25e3) ?? 0) / (Math.SQRT2 * 6.75)).toBeCloseTo(1, 2);
  });
});

describe("staffLimits", () => {
  it("takes a peak and compares its rms: 27 uT rms at the console is the public level", () => {
    const [occupational, anyone] = levels([console_]);
    expect(occupational.ratio).toBeCloseTo(0.27, 12);
    expect(anyone.ratio).toBeCloseTo(1, 12);
    expect(occupational).toMatchObject({ class: "staff", kind: "appliedField", unit: "T", axis: null });
  });

  it("leaves the public level out where only staff comes", () => {
    expect(levels([{ ...console_, access: "staff only" }]).map(({ quantity }) => quantity)).toEqual([
      "stray field (rms), occupational, console at 25 kHz",
    ]);
  });

  it("gives the electric field as an upper figure, 2 pi f B r in 0.2 m", () => {
    const lines = staffLimits({ stray: [console_] }).filter(({ kind }) => kind === "electricField");
    expect(lines.length).toBe(3); // ICNIRP at work, the workers' rule, ICNIRP for anyone
    for (const { value, caution } of lines) {
      expect(value).toBeCloseTo(2 * Math.PI * 25e3 * 27e-6 * 0.2, 12);
      expect(caution).toMatch(/an upper figure/);
    }
  });

  it("adds the parts of several frequencies in one place", () => {
    const other = { ...console_, frequency_Hz: 26e3 };
    const sums = staffLimits({ stray: [console_, other, { ...other, place: "door" }] }).filter(({ quantity }) =>
      quantity.includes("sum over frequencies"),
    );
    expect(sums.map(({ ratio }) => ratio?.toFixed(10))).toEqual(["0.5400000000", "2.0000000000"]);
  });

  it("a sum that lacks a frequency can pass its limit but never keep it", () => {
    const slow = { ...console_, frequency_Hz: 100 };
    const sums = (stray: StrayField) =>
      staffLimits({ stray: [slow, { ...stray, access: "staff only" }] }).filter(({ quantity }) =>
        quantity.includes("sum over frequencies, occupational"),
      );
    expect(sums(console_)[0].limit).toBeNull();
    expect(sums({ ...console_, amplitude_T: 1e-3 })[0].ratio).toBeCloseTo(1e-3 / Math.SQRT2 / 0.1e-3, 10);
  });

  it("the head's restriction is known at 60 Hz only", () => {
    const head = (frequency_Hz: number) =>
      staffLimits({ stray: [{ ...console_, frequency_Hz }] })
        .filter(({ bodyPart }) => bodyPart === "head")
        .map(({ limit }) => limit);
    expect(head(60)).toEqual([0.12, 0.024]);
    expect(head(100)).toEqual([null, null]);
    expect(head(25e3)).toEqual([]);
  });

  it("draws the 0.5 mT line for implants around a static magnet", () => {
    const [line] = staffLimits({ stray: [], staticStray: [{ place: "door", amplitude_T: 0.6e-3 }] });
    expect(line.ratio).toBeCloseTo(1.2, 12);
    expect(limitBands([line])[0].verdict).toMatch(/^above every limit/);
    expect(line.status).toBe("from memory");
  });

  it("refuses fields without place, sign or name of their own", () => {
    expect(() => staffLimits({ stray: [{ ...console_, place: "" }] })).toThrow(
      /at stray\[0\].place: found an empty text/,
    );
    expect(() => staffLimits({ stray: [{ ...console_, amplitude_T: 0 }] })).toThrow(/at stray\[0\].amplitude_T/);
    expect(() => staffLimits({ stray: [console_, console_] })).toThrow(/"console at 25 kHz" twice/);
    expect(() => staffLimits({ stray: [], staticStray: [{ place: "door", amplitude_T: -1 }] })).toThrow(
      /at staticStray\[0\].amplitude_T/,
    );
  });
});
