import { describe, expect, it } from "vitest";
import { contributionSum_T, fieldAtPoint, fieldOfSources } from "./field-of-sources.js";
import type { FieldSource, LoopSource, RingSectorSource } from "./source.js";

const loop: LoopSource = { kind: "loop", center_m: [0, 0, 0], normal: [0, 0, 1], radius_m: 0.1, current_A: 1 };
const sector: RingSectorSource = {
  kind: "ring-sector",
  center_m: [0, 0, 0],
  axis: [0, 0, 1],
  reference: [1, 0, 0],
  innerRadius_m: 0.05,
  outerRadius_m: 0.1,
  length_m: 0.1,
  fromAngle_rad: 0,
  toAngle_rad: 1,
  remanence_T: [1, 0, 0],
};

describe("field of sources", () => {
  it("adds sources, point by point, into the array given", () => {
    const points = Float64Array.of(0, 0, 0, 0.02, 0.03, 0.04);
    const out = new Float64Array(6);
    const field = fieldOfSources([loop, sector]);
    expect(field(points, out)).toBe(out);
    for (const at of [0, 3]) {
      const point = [points[at], points[at + 1], points[at + 2]] as const;
      const [a, b] = [fieldAtPoint([loop], point), fieldAtPoint([sector], point)];
      for (let i = 0; i < 3; i++) expect(out[at + i]).toBe(a[i] + b[i]);
    }
  });

  it("gives 0 without sources, NaN for NaN", () => {
    expect([...fieldAtPoint([], [1, 2, 3])]).toEqual([0, 0, 0]);
    expect(fieldAtPoint([loop, sector], [Number.NaN, 0, 0]).every(Number.isNaN)).toBe(true);
    const coil: FieldSource = {
      kind: "coil-stack",
      center_m: [0, 0, 0],
      normal: [0, 0, 1],
      innerRadius_m: 1,
      outerRadius_m: 2,
      length_m: 1,
      current_A: 1,
    };
    expect(fieldAtPoint([coil], [Number.NaN, 0, 0]).some(Number.isNaN)).toBe(true);
  });

  it("sums magnitudes where fields cancel", () => {
    const opposed: LoopSource = { ...loop, current_A: -1 };
    expect(Math.hypot(...fieldAtPoint([loop, opposed], [0, 0.01, 0.02]))).toBe(0);
    const one = Math.hypot(...fieldAtPoint([loop], [0, 0.01, 0.02]));
    expect(contributionSum_T([loop, opposed], [0, 0.01, 0.02])).toBe(2 * one);
  });

  const wrong: readonly (readonly [FieldSource, string])[] = [
    [{ ...loop, radius_m: 0 }, "sources.1.radius_m"],
    [{ ...loop, radius_m: Number.NaN }, "sources.1.radius_m"],
    [{ ...loop, normal: [0, 0, 2] }, "sources.1.normal"],
    [
      {
        kind: "coil-stack",
        center_m: [0, 0, 0],
        normal: [0, 0, 1],
        innerRadius_m: 0.2,
        outerRadius_m: 0.1,
        length_m: 1,
        current_A: 1,
      },
      "sources.1.innerRadius_m",
    ],
    [
      {
        kind: "coil-stack",
        center_m: [0, 0, 0],
        normal: [0, 0, 1],
        innerRadius_m: 0.1,
        outerRadius_m: 0.1,
        length_m: 0,
        current_A: 1,
      },
      "sources.1.length_m",
    ],
    [{ kind: "segment", from_m: [1, 1, 1], to_m: [1, 1, 1], current_A: 1 }, "sources.1.to_m"],
    [
      { kind: "rectangle", center_m: [0, 0, 0], normal: [0, 0, 1], edge: [0, 0.6, 0.8], size_m: [1, 1], current_A: 1 },
      "sources.1.edge",
    ],
    [{ kind: "block", center_m: [0, 0, 0], size_m: [1, -1, 1], remanence_T: [0, 0, 1] }, "sources.1.size_m.1"],
    [
      {
        kind: "block",
        center_m: [0, 0, 0],
        size_m: [1, 1, 1],
        edges: [
          [1, 0, 0],
          [0, 1, 0],
          [0, 0, -1],
        ],
        remanence_T: [0, 0, 1],
      },
      "sources.1.edges.2",
    ],
    [{ ...sector, toAngle_rad: 7 }, "sources.1.toAngle_rad"],
    [{ ...sector, outerRadius_m: 0.05 }, "sources.1.outerRadius_m"],
    [{ ...sector, reference: [0, 0, 1] }, "sources.1.reference"],
  ];
  for (const [source, path] of wrong)
    it(`refuses what cannot be, at ${path}`, () => {
      expect(() => fieldOfSources([loop, source])).toThrow(
        expect.objectContaining({ code: "InvalidValue", place: { path } }),
      );
    });

  it("refuses points that do not come in threes, or a result of another length", () => {
    expect(() => fieldOfSources([loop])(new Float64Array(4))).toThrow(
      expect.objectContaining({ code: "ShapeMismatch" }),
    );
    expect(() => fieldOfSources([loop])(new Float64Array(3), new Float64Array(6))).toThrow(
      expect.objectContaining({ code: "ShapeMismatch" }),
    );
  });
});
