import { describe, expect, it } from "vitest";
import { fieldAxis, fieldTick } from "./field-axis.js";

describe("fieldAxis", () => {
  it("is logarithmic with decades for positive fields", () => {
    expect(fieldAxis([0.06, 1, 4000])).toMatchObject({ type: "log", ticks: [0.1, 1, 10, 100, 1000] });
  });
  it("adds doubles and fivefolds where there are few decades", () => {
    expect(fieldAxis([30, 100, 400]).ticks).toEqual([50, 100, 200, 500]);
  });
  it("is symmetric-logarithmic when zero or negative fields occur, with few enough ticks to read", () => {
    const loop = Array.from({ length: 81 }, (_, i) => 500 * Math.cos((i * Math.PI) / 40));
    const { type, ticks } = fieldAxis(loop);
    expect(type).toBe("symlog");
    expect(ticks).toEqual([-500, -200, -100, 0, 100, 200, 500]);
  });
  it("survives fields that are all zero", () => expect(fieldAxis([0, 0]).domain).toEqual([-1, 1]));
});

describe("fieldTick", () => {
  it.each([
    [0, "0"],
    [0.1, "0.1"],
    [-20, "\u221220"],
    [1000, "1000"],
    [1e-5, "1e-5"],
    [1e6, "1e6"],
  ])("%d -> %s", (value, text) => expect(fieldTick(value)).toBe(text));
});
