import { describe, expect, it } from "vitest";
import { isKnownError } from "../../errors.js";
import { contains, cutIntoPoints, type IronObject, type PointSources, type Vector } from "./point-sources.js";

const center_m: Vector = [0.3e-3, -0.2e-3, 0.1e-3];
const sphere = (diameter_m: number): IronObject => ({ kind: "sphere", center_m, diameter_m, iron_kg: 2e-9 });
const box = (size_m: Vector): IronObject => ({ kind: "box", center_m, size_m, iron_kg: 2e-9 });
const even = (spacing_m: number): Vector => [spacing_m, spacing_m, spacing_m];

function moments({ x_m, y_m, z_m, iron_kg }: PointSources) {
  const total = iron_kg.reduce((sum, iron) => sum + iron, 0);
  const mean = [x_m, y_m, z_m].map((v) => v.reduce((sum, value, i) => sum + value * iron_kg[i], 0) / total);
  const square = [x_m, y_m, z_m].map(
    (v, axis) => v.reduce((sum, value, i) => sum + (value - center_m[axis]) ** 2 * iron_kg[i], 0) / total,
  );
  return { total, mean, square };
}

describe("cutting objects into points", () => {
  it.each<[string, IronObject, number]>([
    ["sphere of 3 mm", sphere(3e-3), 0.2e-3],
    ["sphere of 1 mm, coarsely", sphere(1e-3), 0.41e-3],
    ["box", box([2e-3, 3e-3, 1.3e-3]), 0.41e-3],
    ["slab thinner than a cell", box([4e-3, 4e-3, 0.2e-3]), 0.41e-3],
    ["sphere smaller than a cell", sphere(0.05e-3), 0.41e-3],
  ])("%s: every gram is there, at the right place", (_, object, spacing) => {
    const { total, mean } = moments(cutIntoPoints([object], even(spacing)));
    expect(Math.abs(total / 2e-9 - 1)).toBeLessThan(1e-12);
    // Boxes are exact; a sphere's samples (a quarter of a cell apart) leave 2.5 µm at 1 mm and 0.41 mm cells.
    const tolerance = object.kind === "box" ? 1e-12 : 4e-6;
    mean.forEach((value, axis) => {
      expect(Math.abs(value - center_m[axis])).toBeLessThan(tolerance);
    });
  });

  it("a sphere has the second moment d²/20, less what points inside a cell lose", () => {
    for (const spacing of [0.1e-3, 0.2e-3]) {
      // Each point stands for a piece of its own second moment h²/12 (full cells) or less (cut ones).
      for (const value of moments(cutIntoPoints([sphere(3e-3)], even(spacing))).square) {
        expect(value).toBeLessThan(3e-3 ** 2 / 20);
        expect(value + spacing ** 2 / 12).toBeGreaterThan(3e-3 ** 2 / 20);
        expect(value / (3e-3 ** 2 / 20)).toBeGreaterThan(0.99);
      }
    }
  });

  it("a box has the second moment L²/12 along each axis, less the same", () => {
    const size: Vector = [2e-3, 3e-3, 1.3e-3];
    moments(cutIntoPoints([box(size)], even(0.2e-3))).square.forEach((value, axis) => {
      expect(value).toBeLessThan(size[axis] ** 2 / 12);
      expect(value + 0.2e-3 ** 2 / 12).toBeGreaterThan(size[axis] ** 2 / 12);
    });
  });

  it("stands on the offset grid of the world, not on the object's own", () => {
    const spacing: Vector = [0.2e-3, 0.3e-3, 0.25e-3];
    const inner = (points: PointSources) =>
      [...points.iron_kg.keys()].filter(
        (i) => Math.hypot(points.x_m[i] - 0.3e-3, points.y_m[i] + 0.2e-3, points.z_m[i] - 0.1e-3) < 1e-3,
      );
    const offset: Vector = [0.11, 0.5, 0.83];
    const points = cutIntoPoints([sphere(3e-3)], spacing, { offset });
    expect(inner(points).length).toBeGreaterThan(100);
    for (const i of inner(points))
      [points.x_m[i], points.y_m[i], points.z_m[i]].forEach((value, axis) => {
        const cells = value / spacing[axis] - offset[axis];
        expect(Math.abs(cells - Math.round(cells))).toBeLessThan(1e-9);
      });
    const shifted = cutIntoPoints([sphere(3e-3)], spacing);
    expect(shifted.x_m[inner(shifted)[0]]).not.toBeCloseTo(points.x_m[inner(points)[0]], 6);
  });

  it("keeps several objects apart and whole, points and empty ones included", () => {
    const point: IronObject = { kind: "point", center_m: [5e-3, 0, 0], iron_kg: 1e-10 };
    const empty: IronObject = { ...sphere(1e-3), iron_kg: 0 };
    const points = cutIntoPoints([sphere(1e-3), point, empty], even(0.3e-3));
    expect(points.iron_kg.reduce((sum, iron) => sum + iron, 0)).toBeCloseTo(2.1e-9, 20);
    expect([...points.x_m].filter((x) => x === 5e-3)).toHaveLength(1);
    expect(cutIntoPoints([], even(0.3e-3)).iron_kg).toHaveLength(0);
  });

  it.each<[string, () => unknown]>([
    ["negative iron", () => cutIntoPoints([{ ...sphere(1e-3), iron_kg: -1 }], even(1e-3))],
    ["unknown iron", () => cutIntoPoints([{ ...sphere(1e-3), iron_kg: Number.NaN }], even(1e-3))],
    ["an unknown diameter", () => cutIntoPoints([sphere(Number.NaN)], even(1e-3))],
    ["a box of negative size", () => cutIntoPoints([box([1e-3, -1e-3, 1e-3])], even(1e-3))],
    ["a grid without spacing (it would never end)", () => cutIntoPoints([sphere(1e-3)], [1e-3, 0, 1e-3])],
  ])("refuses %s", (_, act) => {
    let caught: unknown;
    try {
      act();
    } catch (error) {
      caught = error;
    }
    expect(isKnownError(caught, "InvalidValue")).toBe(true);
  });
});

it("contains what lies within the surface, and a point contains nothing", () => {
  const inside: Vector = [0.3e-3, -0.2e-3, 0.59e-3];
  const outside: Vector = [0.3e-3, -0.2e-3, 0.61e-3];
  for (const object of [sphere(1e-3), box(even(1e-3))]) {
    expect(contains(object, inside)).toBe(true);
    expect(contains(object, outside)).toBe(false);
  }
  expect(contains({ kind: "point", center_m, iron_kg: 1 }, center_m)).toBe(false);
});
