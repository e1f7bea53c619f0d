import { describe, expect, it } from "vitest";
import { fieldGrid } from "./field-grid.js";
import { logNormalCurve } from "./log-normal-model.js";

const conditions = { coreSaturation_A_per_m: 446e3, temperature_K: 300 };

/** Fields of both signs, crowded and spread over six decades, with zero among them. */
const fields = Float64Array.from({ length: 6000 }, (_, i) => (i % 2 ? -1 : 1) * 1e-6 * 10 ** (7 * (i / 5999)));
fields[17] = 0;

describe("fieldGrid", () => {
  const grid = fieldGrid(fields)!;

  it.each([
    [0.5e-9, 0.001],
    [10e-9, 0.001],
    [25e-9, 0.05],
    [11e-9, 0.4],
    [6e-9, 1.2],
    [200e-9, 0.001],
    [200e-9, 1.2],
  ])("gives the average over sizes at every field, median %d m, log-sd %d", (d, s) => {
    const parameters = [1, d, s, 0];
    const direct = logNormalCurve(fields, parameters, conditions);
    const interpolated = logNormalCurve(fields, parameters, { ...conditions, grid });
    const gaps = direct.map((value, i) => (value === interpolated[i] ? 0 : Math.abs(interpolated[i] / value - 1)));
    // 1e-9 asked for; 1.2 h^8 = 8e-12 promised, and rounding of eight terms: 2e-11.
    expect(gaps.reduce((a, b) => Math.max(a, b))).toBeLessThan(2e-11);
    expect(interpolated[17]).toBe(0);
  });

  it("is odd to the last bit", () => {
    const mirrored = fieldGrid(fields.map((field) => -field))!;
    const values = grid.nodes_T.map((node) => Math.tanh(node));
    const plus = grid.interpolate(values, new Float64Array(fields.length));
    const minus = mirrored.interpolate(values, new Float64Array(fields.length));
    expect([...minus.map((value) => 0 - value)]).toEqual([...plus.map((value) => value + 0)]);
  });

  it("leaves few or far-spread fields to be computed one by one", () => {
    expect(fieldGrid(fields.slice(0, 30))).toBeUndefined();
    expect(fieldGrid(Float64Array.from({ length: 3000 }, (_, i) => 10 ** (-300 + i / 10)))).toBeUndefined();
    expect(fieldGrid(new Float64Array(5000))).toBeUndefined();
  });
});
