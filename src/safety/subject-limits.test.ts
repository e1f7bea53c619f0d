import { describe, expect, it } from "vitest";
import { type Body, typicalBody } from "./body.js";
import type { Drive } from "./drive.js";
import { firstLimits, limitBands } from "./limit-band.js";
import type { LimitLine } from "./limit-line.js";
import { subjectLimits } from "./subject-limits.js";

const torso = typicalBody("human-torso");
const drive: Drive = { axis: "z", amplitude_T: 3e-3, frequency_Hz: 25e3 };
const linesOf = (body: Body, drives: readonly Drive[] = [drive]) => subjectLimits({ body, drives, shifts: [] });
const nerves = (lines: readonly LimitLine[]) => lines.filter(({ quantity }) => quantity.startsWith("nerve"));
const from = (lines: readonly LimitLine[], source: RegExp) => lines.filter((line) => source.test(line.source));

describe("stimulation of people", () => {
  it("W26 at 25 kHz: 7.6 mT pp at the first level, 6.08 in normal mode, beside a 6 mT swing", () => {
    const lines = nerves(linesOf(torso));
    const [normal] = from(lines, /normal mode \(80 %\)$/);
    const [first] = from(lines, /first level/);
    expect(normal.limit).toBeCloseTo(6.08e-3, 12);
    expect(first.limit).toBeCloseTo(7.6e-3, 12);
    expect(first.value).toBe(6e-3);
    expect(first).toMatchObject({ class: "scan subject", kind: "appliedField", unit: "T", status: "read (secondary)" });
    expect(first.edition).toMatch(/2022 edition, as quoted/);
  });

  it("shows the hyperbola and the measured departure side by side (E12), only for sines and only where measured", () => {
    const at = (frequency_Hz: number, extra: Partial<Drive> = {}) =>
      from(nerves(linesOf(torso, [{ ...drive, frequency_Hz, ...extra }])), /measured departure/);
    const [[low], [high], [beyond]] = [at(25e3), at(88.1e3), at(100e3)];
    expect((high.limit ?? 0) / (low.limit ?? 1)).toBeCloseTo(1.39, 12);
    expect(beyond).toMatchObject({ limit: null, ratio: null, note: "no published threshold in our sources" });
    expect(at(10e3)).toEqual([]);
    expect(at(50e3, { waveform: { kind: "trapezoid", rampTime_s: 5e-6 } })).toEqual([]);
  });

  it("the other readings of the duration are lines of their own, strictest 1.57 below", () => {
    const lines = nerves(linesOf(torso));
    const [[ours], [strictest]] = [from(lines, /\(80 %\)$/), from(lines, /whole rise/)];
    expect((ours.limit ?? 0) / (strictest.limit ?? 1)).toBeCloseTo(Math.PI / 2, 12);
    const [band] = limitBands(lines);
    expect(band.ratio?.high).toBeCloseTo(6e-3 / (strictest.limit ?? 1), 12);
    expect(band.verdict).toMatch(/^between the limits of our sources; /);
  });

  it("says what the square-root law would make of it: 2 sqrt(d/c)/(1 + d/c) of the hyperbola", () => {
    const [first] = from(nerves(linesOf(torso)), /first level/);
    expect(first.caution).toMatch(/mean 300\.0 T\/s over 20\.00 µs; .* is x0\.45 of the hyperbola/);
  });

  it("measured gradients: y and z have figures, x has none", () => {
    const measured = (axis: "x" | "y" | "z") =>
      from(nerves(linesOf(torso, [{ ...drive, axis }])), /Bourland/).map(({ limit }) => limit);
    expect(measured("z")[0]).toBeCloseTo(26 * (20e-6 + 0.38e-3), 12);
    expect(measured("y")[0]).toBeCloseTo(15 * (20e-6 + 0.37e-3), 12);
    expect(measured("x")).toEqual([null]);
  });

  it("the head has a chronaxie but no threshold of its own; the arm has none: a figure scaled by us would not be published", () => {
    const [head] = from(nerves(linesOf(typicalBody("human-head"))), /head thresholds/);
    expect(head).toMatchObject({ limit: null, ratio: null });
    expect(head.caution).toMatch(/669/);
    const arm = from(nerves(linesOf(typicalBody("human-arm"))), /Saritas/);
    expect(arm).toMatchObject([{ limit: null, ratio: null, note: "no published threshold in our sources" }]);
    expect(from(nerves(linesOf(typicalBody("human-torso"))), /low end/)).toHaveLength(1);
  });

  it("a slow shift is compared as a rate, with the same ratios as its change", () => {
    const shifts = [{ axis: "y", amplitude_T: 40e-3, slew_T_per_s: 10 }] as const;
    const lines = nerves(subjectLimits({ body: torso, drives: [], shifts }));
    const [first] = from(lines, /first level/);
    expect(first).toMatchObject({ kind: "fieldRate", unit: "T/s", value: 10, quantity: "nerve stimulation, shift y" });
    expect(first.limit).toBeCloseTo(20 * (1 + 0.36e-3 / 8e-3), 12);
  });

  it("names the hazard to the heart without a number", () => {
    const cardiac = linesOf(torso).filter(({ quantity }) => quantity.startsWith("cardiac"));
    expect(cardiac.map(({ limit }) => limit)).toEqual([null]);
    expect(linesOf(typicalBody("human-head")).some(({ quantity }) => quantity.startsWith("cardiac"))).toBe(false);
  });
});

describe("heating of people", () => {
  const heating = (lines: readonly LimitLine[], what: string) =>
    lines.filter(({ quantity }) => quantity.startsWith(`heating, ${what}`));

  it("compares the exposed part in place of the whole body unless its mass is given, and says so", () => {
    const [upper] = heating(linesOf(torso), "whole body");
    expect(upper.limit).toBe(2);
    expect(upper.caution).toMatch(/without blood flow 0\.0206 K in 6 min/); // 0.199859 W/kg x 360 s / 3500 J/(kg K)
    expect(upper.caution).toMatch(/in place of the whole-body average: an upper figure/);
    const [shared] = heating(linesOf({ ...torso, exposedMass_kg: 7 }), "whole body");
    expect(shared.value / upper.value).toBeCloseTo(0.1, 12);
  });

  it("trunk 10 W/kg at the worst point; head 3.2 W/kg, and no local figure for head and limbs", () => {
    expect(heating(linesOf(torso), "worst point").map(({ limit }) => limit)).toEqual([10]);
    const head = linesOf(typicalBody("human-head"));
    expect(heating(head, "head").map(({ limit }) => limit)).toEqual([3.2]);
    expect(heating(head, "worst point").map(({ limit }) => limit)).toEqual([null]);
    expect(heating(linesOf(typicalBody("human-arm")), "worst point").map(({ limit }) => limit)).toEqual([null]);
  });

  it("adds the drives that run together", () => {
    const lines = linesOf(torso, [drive, { ...drive, axis: "x", frequency_Hz: 26e3 }]);
    const values = heating(lines, "worst point").map(({ value }) => value);
    expect(values.length).toBe(3);
    expect(values[2]).toBeCloseTo(values[0] + values[1], 12);
  });
});

describe("animals", () => {
  it.each(["mouse", "rat"] as const)("%s: values are shown, no limit is, and none is reached first", (part) => {
    const lines = subjectLimits({
      body: typicalBody(part),
      drives: [drive],
      shifts: [{ axis: "x", amplitude_T: 40e-3, slew_T_per_s: 2 }],
    });
    expect(new Set(lines.map((line) => line.class))).toEqual(new Set(["animal"]));
    for (const line of lines) {
      expect([line.limit, line.ratio, line.note]).toEqual([null, null, "no published threshold in our sources"]);
      expect(line.value).toBeGreaterThan(0);
    }
    expect(from(lines, /no stimulation standard covers rodents/).length).toBe(2);
    expect(firstLimits(limitBands(lines))).toEqual({});
  });
});

describe("an own part", () => {
  const own: Body = {
    ...typicalBody("human-arm"),
    part: "own",
    class: "animal",
    ownThreshold: { rheobase_T_per_s: 50, chronaxie_s: 0.2e-3, source: "pilot study", status: "derived" },
  };

  it("carries the user's threshold, named as such", () => {
    const [line] = from(nerves(linesOf(own)), /given by the user/);
    expect(line).toMatchObject({ class: "animal", status: "derived", source: "given by the user: pilot study" });
    expect(line.limit).toBeCloseTo(50 * (20e-6 + 0.2e-3), 12);
  });

  it("of an animal has no human limit", () => {
    expect(from(linesOf(own), /IEC.*(normal|first|trunk|head)/)).toEqual([]);
  });
});

describe("words", () => {
  it("clear nobody", () => {
    const everything = [
      ...(["human-head", "human-arm", "human-torso", "mouse", "rat"] as const).flatMap((part) =>
        linesOf(typicalBody(part), [drive, { ...drive, axis: "x", frequency_Hz: 90e3 }]),
      ),
    ];
    const texts = everything.flatMap(({ quantity, source, edition, caution }) => [quantity, source, edition, caution]);
    const verdicts = limitBands(everything).map(({ verdict }) => verdict);
    for (const text of [...texts, ...verdicts]) {
      expect(text).not.toMatch(/\bsafe|\bharmless|\bpermitted|\ballowed|\bmay proceed|\bcleared/i);
      expect(text).not.toBe("");
    }
    for (const verdict of verdicts) expect(verdict).toMatch(/licensed practice decide$/);
  });
});

it("refuses two drives of one axis and frequency, and two shifts of one axis", () => {
  expect(() => linesOf(torso, [drive, drive])).toThrow(/at drives: found "drive z at 25 kHz" twice/);
  const shift = { axis: "x", amplitude_T: 1e-3, slew_T_per_s: 1 } as const;
  expect(() => subjectLimits({ body: torso, drives: [], shifts: [shift, shift] })).toThrow(/"shift x" twice/);
});
