import { describe, expect, it } from "vitest";
import { length, moved } from "../sources/vector3.js";
import { principalGradients } from "./principal-gradients.js";
import { applied } from "./three-by-three.js";

/** R diag R^T for a turn about x then z. */
function turned(diagonal: readonly number[]): Float64Array {
  const [a, b] = [0.7, -0.4];
  const [ca, sa, cb, sb] = [Math.cos(a), Math.sin(a), Math.cos(b), Math.sin(b)];
  const r = [cb, -sb * ca, sb * sa, sb, cb * ca, -cb * sa, 0, sa, ca];
  return Float64Array.from({ length: 9 }, (_, index) => {
    const [i, j] = [Math.floor(index / 3), index % 3];
    return [0, 1, 2].reduce((sum, k) => sum + r[3 * i + k] * diagonal[k] * r[3 * j + k], 0);
  });
}

describe("principal gradients", () => {
  it.each([
    ["a field-free point", [-1, -1, 2], [2, -1, -1]],
    ["a field-free line", [3, -3, 0], [3, -3, 0]],
    ["three different ones", [0.5, -2.25, 1.75], [-2.25, 1.75, 0.5]],
    ["no field", [0, 0, 0], [0, 0, 0]],
  ])("of %s, turned, come back with their directions", (_, diagonal, sorted) => {
    const gradient = turned(diagonal);
    const { values_T_per_m, directions } = principalGradients(gradient);
    const magnitudes = values_T_per_m.map(Math.abs);
    magnitudes.forEach((value, k) => {
      expect(value).toBeCloseTo(Math.abs(sorted[k]), 13);
    });
    expect(values_T_per_m[0] + values_T_per_m[1] + values_T_per_m[2]).toBeCloseTo(0, 13);
    directions.forEach((direction, k) => {
      expect(length(direction)).toBeCloseTo(1, 13);
      const off = moved(applied(gradient, direction), direction, -values_T_per_m[k]);
      expect(length(off)).toBeLessThan(1e-13);
    });
  });
});
