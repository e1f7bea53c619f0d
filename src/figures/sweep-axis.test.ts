import { describe, expect, it } from "vitest";
import { headingLines } from "./panel-heading.js";
import { roundLevels } from "./round-levels.js";
import { axisPlaces, cellEdges, checkSweep, titleOf } from "./sweep-axis.js";

const linear = { name: "Gradient", unit: "T/m", values: Float64Array.of(1, 2, 4) };
const log = { ...linear, scale: "log" as const };

describe("a sweep's axis", () => {
  it("has cell edges half way between its values, on the scale that is drawn", () => {
    expect([...cellEdges(linear)]).toEqual([0.5, 1.5, 3, 5]);
    const ratios = [...cellEdges(log)].map((edge, i) => edge / 2 ** (i - 0.5));
    for (const ratio of ratios) expect(ratio).toBeCloseTo(1, 14);
  });
  it("finds the place of a value and the value of a place", () => {
    for (const [axis, part] of [
      [linear, 1 / 3],
      [log, 0.5],
    ] as const) {
      const places = axisPlaces(axis, [1, 4]);
      expect(places.part(2)).toBeCloseTo(part, 14);
      expect(places.value(part)).toBeCloseTo(2, 14);
    }
  });
  it("is titled with its unit, or without one", () => {
    expect(titleOf({ name: "Sensitivity", unit: "uT/A" })).toBe("Sensitivity (\u00b5T/A)");
    expect(titleOf({ name: "Ratio", unit: "1" })).toBe("Ratio");
  });
  it.each([
    ["values that descend", Float64Array.of(2, 1), "linear", "do not ascend"],
    ["a single value", Float64Array.of(2), "linear", "two values or more"],
    ["a zero on a logarithmic axis", Float64Array.of(0, 1), "log", "values above 0"],
  ] as const)("refuses %s", (_, values, scale, words) => {
    expect(() => checkSweep({ ...linear, values, scale }, "x")).toThrow(words);
  });
});

describe("headingLines", () => {
  it("breaks a name into two lines at most, and never loses its unit", () => {
    expect(headingLines({ name: "Power", unit: "kW" }, 170)).toEqual(["Power (kW)"]);
    expect(headingLines({ name: "Smallest iron mass at SNR 3", unit: "ng" }, 170)).toEqual([
      "Smallest iron mass at SNR",
      "3 (ng)",
    ]);
    for (const name of ["many words ".repeat(9).trim(), "one-".repeat(30)]) {
      const lines = headingLines({ name, unit: "uT/A" }, 170);
      expect(lines.length).toBeLessThanOrEqual(2);
      expect(lines.at(-1)).toMatch(/\u2026 \(\u00b5T\/A\)$/);
      for (const line of lines) expect(line.length * 8.2).toBeLessThan(170 + 40 + 1);
    }
  });
});

describe("roundLevels", () => {
  it.each([
    [0, 100, 5, [20, 40, 60, 80]],
    [0.67, 9.4, 4, [2, 4, 6, 8]],
    [0, 0.15, 3, [0.05, 0.1]],
    [-1, 1, 4, [-0.5, 0, 0.5]],
    [3, 3, 4, []],
  ] as const)("%d to %d in about %d -> %j", (low, high, count, levels) => {
    expect(roundLevels(low, high, count)).toEqual(levels);
  });
});
