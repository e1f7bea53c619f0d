import { describe, expect, it } from "vitest";
import { fieldOfSources } from "./field-of-sources.js";
import { fieldSelfCheck } from "./field-self-check.js";
import type { FieldFunction, LoopSource } from "./source.js";

const loop: LoopSource = { kind: "loop", center_m: [0, 0, 0], normal: [0, 0.6, 0.8], radius_m: 0.1, current_A: 1 };

describe("self-check of a field", () => {
  it("a loop's field passes", () => {
    const { divergence, curl } = fieldSelfCheck(fieldOfSources([loop]), [0.02, 0.03, 0.05], 0.05);
    expect(divergence).toBeLessThan(1e-11);
    expect(curl).toBeLessThan(1e-11);
  });

  it("names a field that has divergence, and one that has curl", () => {
    const linear =
      (g: readonly number[]): FieldFunction =>
      (p, out = new Float64Array(3)) => {
        for (let i = 0; i < 3; i++) out[i] = g[3 * i] * p[0] + g[3 * i + 1] * p[1] + g[3 * i + 2] * p[2];
        return out;
      };
    const source = fieldSelfCheck(linear([1, 0, 0, 0, 1, 0, 0, 0, 1]), [0, 0, 0], 1);
    expect(source.divergence).toBeCloseTo(Math.sqrt(3), 12);
    expect(source.curl).toBeLessThan(1e-14);
    const vortex = fieldSelfCheck(linear([0, -1, 0, 1, 0, 0, 0, 0, 0]), [0, 0, 0], 1);
    expect(vortex.curl).toBeCloseTo(Math.SQRT2, 12);
  });

  it("no field at all is consistent", () => {
    const nothing: FieldFunction = (p, out = new Float64Array(p.length)) => out.fill(0);
    expect(fieldSelfCheck(nothing, [0, 0, 0], 1)).toEqual({ divergence: 0, curl: 0 });
  });
});
