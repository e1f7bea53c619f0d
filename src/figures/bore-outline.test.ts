import { describe, expect, it } from "vitest";
import { boreLines, markInPlane } from "./bore-outline.js";

const bore = { axis: "z", radius_m: 0.05, centre_m: [0.01, 0, 0], length_m: 0.2 } as const;

describe("boreLines", () => {
  it("is a circle about the axis, within the bore's length", () => {
    const [circle] = boreLines(bore, { plane: "xy", at_m: 0.03 });
    for (const [x, y] of circle) expect(Math.hypot(x - 0.01, y)).toBeCloseTo(0.05, 15);
    expect(boreLines(bore, { plane: "xy", at_m: 0.11 })).toEqual([]);
  });
  it("is as wide as the chord in a plane along the axis", () => {
    const [box] = boreLines(bore, { plane: "xz", at_m: 0.03 });
    const [x, z] = [box.map(([a]) => a), box.map(([, b]) => b)];
    expect(Math.max(...x) - Math.min(...x)).toBeCloseTo(0.08, 12); // 3-4-5
    expect([Math.min(...z), Math.max(...z)]).toEqual([-0.1, 0.1]);
    expect(boreLines(bore, { plane: "xz", at_m: 0.06 })).toEqual([]);
  });
  it("has two sides and no ends where it has no length", () => {
    const sides = boreLines({ axis: "x", radius_m: 0.05 }, { plane: "xy", at_m: 0 });
    expect(sides.map((line) => line.map(([, y]) => y))).toEqual([
      [-0.05, -0.05],
      [0.05, 0.05],
    ]);
  });
});

describe("markInPlane", () => {
  const reach = { reach_m: 1e-3 };
  it("shows a point in the planes that hold it", () => {
    const point = { kind: "point", at_m: [0.01, 0.02, 0.03] } as const;
    expect(markInPlane(point, { plane: "yz", at_m: 0.0105 }, reach)).toEqual([[0.02, 0.03]]);
    expect(markInPlane(point, { plane: "yz", at_m: 0.02 }, reach)).toBeNull();
  });
  it("shows a line along a plane, or where it crosses", () => {
    const line = { kind: "line", through_m: [0, 0.01, 0], direction: [0, 0, 2] } as const;
    expect(markInPlane(line, { plane: "xy", at_m: 0.4 }, reach)).toEqual([[0, 0.01]]);
    const along = markInPlane(line, { plane: "xz", at_m: 0.01 }, reach)!;
    expect(along.map(([x]) => x)).toEqual([0, 0]);
    expect(markInPlane(line, { plane: "xz", at_m: 0.05 }, reach)).toBeNull();
    const slanted = { kind: "line", through_m: [0, 0, 0], direction: [1, 0, 1] } as const;
    const [[x, y]] = markInPlane(slanted, { plane: "xy", at_m: 0.03 }, reach)!;
    expect(x).toBeCloseTo(0.03, 15);
    expect(y).toBe(0);
  });
});
