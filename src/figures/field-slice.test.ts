import { parseHTML } from "linkedom";
import { describe, expect, it } from "vitest";
import { type FieldSlice, fieldSliceFigure } from "./field-slice.js";
import { figureCsv } from "./figure.js";

/** An ideal field-free line along z: |B| = G r, B = (Gx, -Gy, 0). */
const gradient_T_per_m = 5;
const reach: [number, number] = [-0.02, 0.02];

function slice(plane: "xy" | "xz", n: number): FieldSlice {
  const at = (i: number) => reach[0] + ((reach[1] - reach[0]) * i) / (n - 1);
  const of = (f: (across: number, up: number) => number) =>
    Float64Array.from({ length: n * n }, (_, i) => gradient_T_per_m * f(at(i % n), at(Math.floor(i / n))));
  const isAcross = plane === "xy";
  return {
    plane,
    at_m: 0,
    shape: [n, n],
    across_m: reach,
    up_m: reach,
    values: of((x, y) => (isAcross ? Math.hypot(x, y) : Math.abs(x))),
    components: { across_T: of((x) => x), up_T: of((_, y) => (isAcross ? -y : 0)) },
  };
}

const line = { kind: "line", through_m: [0, 0, 0], direction: [0, 0, 1] } as const;
const data = {
  title: "Invented",
  slices: [slice("xy", 40), slice("xz", 40)],
  fieldFree: [line],
  boreOutline: { axis: "z", radius_m: 0.015 } as const,
};

const planesOf = (svg: string) => [...parseHTML(svg).document.querySelectorAll("svg > svg > svg")];
type Panel = ReturnType<typeof planesOf>[number];
const texts = (panel: Panel) => [...panel.querySelectorAll("text")].map((text) => text.textContent);

/** Points of every path of a kind of mark. */
const paths = (panel: Panel, kind: string) =>
  [...panel.querySelectorAll(`[aria-label="${kind}"] path`)].map((path) =>
    [...path.getAttribute("d")!.matchAll(/(-?[\d.]+),(-?[\d.]+)/g)].map(([, x, y]) => [Number(x), Number(y)]),
  );

describe("fieldSliceFigure", () => {
  it("draws contours of equal steps as circles of equal steps around the field-free point, labelled in mT", async () => {
    const { svg } = await fieldSliceFigure(data);
    const [xy] = planesOf(svg);
    const image = xy.querySelector("image")!;
    const [left, top, wide] = ["x", "y", "width"].map((name) => Number(image.getAttribute(name)));
    const [centre, middle] = [left + wide / 2, top + wide / 2];
    const perMm = wide / (40 * (40 / 39)); // cells reach half a step beyond the outer centres
    const radii = paths(xy, "line").map((points) => {
      const r = points.map(([x, y]) => Math.hypot(x - centre, y - middle));
      return [Math.min(...r) / perMm, Math.max(...r) / perMm];
    });
    // 20, 40, 60, 80 mT at 5 T/m are 4, 8, 12, 16 mm; half a cell's interpolation off the linear cone is 0.02 mm there.
    for (const radius of [4, 8, 12, 16]) {
      const circle = radii.find(([low, high]) => Math.abs(low - radius) < 0.05 && Math.abs(high - radius) < 0.05);
      expect(circle, `${radius} mm`).toBeDefined();
    }
    expect(radii.some(([low, high]) => Math.abs(low - 15) < 0.01 && Math.abs(high - 15) < 0.01)).toBe(true); // bore
    for (const label of ["20", "40", "60", "80", "z = 0 mm", "x (mm)", "y (mm)"]) expect(texts(xy)).toContain(label);
    expect(svg).toContain("Magnitude of the field, |\u03bc\u2080H| (mT)");
  });
  it("points arrows along the field, and leaves out those at the line", async () => {
    const [xy, xz] = planesOf((await fieldSliceFigure(data)).svg);
    const arrows = (panel: Panel) =>
      [...panel.querySelectorAll('[aria-label="vector"] path')].map((path) => path.getAttribute("transform")!);
    const rotated = arrows(xz).map((transform) => Number(/rotate\((-?[\d.]+)\)/.exec(transform)?.[1] ?? 0));
    expect(rotated.length).toBeGreaterThan(20);
    // Along +x right of the line and along -x left of it: 90 and -90 degrees from up.
    expect(new Set(rotated.map((angle) => Math.round(angle)))).toEqual(new Set([90, -90]));
    expect(arrows(xy).length).toBeGreaterThan(100); // rim and ink of each
    for (const [i, transform] of arrows(xy).entries()) {
      const [x, y] = [.../translate\((-?[\d.]+),(-?[\d.]+)\)/.exec(transform)!].slice(1).map(Number);
      const angle = Number(/rotate\((-?[\d.]+)\)/.exec(transform)?.[1] ?? 0);
      const image = xy.querySelector("image")!;
      const [left, top, wide] = ["x", "y", "width"].map((name) => Number(image.getAttribute(name)));
      const [dx, dy] = [x - left - wide / 2, y - top - wide / 2];
      // (Gx, -Gy) in picture elements is (dx, dy) seen with up reversed twice: across dx, up dy.
      const expected = (Math.atan2(dx, dy) * 180) / Math.PI;
      const off = (((angle - expected) % 360) + 540) % 360;
      expect(Math.abs(off - 180), `arrow ${i}`).toBeLessThan(0.5);
    }
  });
  it("marks the line where it crosses a plane and along one that holds it, and names both in the key", async () => {
    const { svg } = await fieldSliceFigure(data);
    const [xy, xz] = planesOf(svg);
    const dots = (panel: Panel) => panel.querySelectorAll('[aria-label="dot"] path').length;
    expect([dots(xy), dots(xz)]).toEqual([2, 0]); // with its white rim
    const coloured = (panel: Panel) => panel.querySelectorAll('[aria-label="line"][stroke="#d55e00"]').length;
    expect([coloured(xy), coloured(xz)]).toEqual([0, 1]);
    for (const words of ["field-free line", "where it crosses", "bore", "contours, in mT", "arrows:"])
      expect(svg).toContain(words);
    const point = { kind: "point", at_m: [0, 0, 0] } as const;
    const plain = await fieldSliceFigure({ title: "t", slices: [slice("xy", 20)], fieldFree: [point] });
    expect(plain.svg).toContain("field-free point");
    expect(plain.svg).not.toContain("bore");
  });
  it("gives all cells with their places, and empty cells where a plane has no parts", async () => {
    const { components: _, ...bare } = slice("xz", 40);
    const { data: columns } = await fieldSliceFigure({ ...data, slices: [slice("xy", 40), bare] });
    expect(columns.map(({ name, unit }) => `${name} [${unit}]`)).toEqual([
      "view [1]",
      "x [m]",
      "y [m]",
      "z [m]",
      "field_magnitude [T]",
      "field_across [T]",
      "field_up [T]",
    ]);
    const row = (i: number) => columns.map(({ values }) => values[i]);
    expect(row(1639)).toEqual([1, 0.02, 0, -0.02, 0.1, Number.NaN, Number.NaN]);
    expect(row(0)[4]).toBeCloseTo(0.1 * Math.SQRT2, 15);
    expect(figureCsv({ data: columns }).split("\r\n")).toHaveLength(2 + 3200);
  });
  it("says where its colours end when a limit is given, and counts what lies above", async () => {
    const { svg } = await fieldSliceFigure({ ...data, slices: [slice("xz", 40)], limit_T: 0.05 });
    // |x| > 10 mm in 40 columns from -20 to 20 mm: 10 on each side
    expect(svg).toContain("colours end at 50 mT; cells above it: 800");
  });
  it("keeps three planes of 128 x 128 cells below a megabyte, without a number that is none, the same each time", async () => {
    const large = { ...data, slices: [slice("xy", 128), slice("xz", 128), slice("xz", 128)] };
    const { svg } = await fieldSliceFigure(large);
    expect(svg.length).toBeLessThan(1e6);
    expect(svg.replaceAll(/base64,[^"]*/g, "").match(/NaN|undefined|Infinity/)).toBeNull();
    expect((await fieldSliceFigure(large)).svg).toBe(svg);
  });
  it("draws a field of zero, and cells without a value", async () => {
    const { components: _, ...bare } = { ...slice("xy", 4), values: new Float64Array(16) };
    const torn = { ...bare, values: Float64Array.from({ length: 16 }, (__, i) => (i < 3 ? Number.NaN : 1e-7)) };
    for (const each of [bare, torn]) {
      const { svg } = await fieldSliceFigure({ title: "t", slices: [each] });
      expect(svg.replaceAll(/base64,[^"]*/g, "").match(/NaN|undefined|Infinity/)).toBeNull();
    }
    expect((await fieldSliceFigure({ title: "t", slices: [torn] })).svg).toContain("left white: 3");
  });
  it.each([
    ["no plane", { slices: [] }, "0 planes"],
    ["four planes", { slices: Array.from({ length: 4 }, () => slice("xy", 4)) }, "4 planes"],
    ["a value too few", { slices: [{ ...slice("xy", 4), values: new Float64Array(15) }] }, "16 values, 4 rows of 4"],
    [
      "parts of another length",
      { slices: [{ ...slice("xy", 4), components: slice("xy", 5).components! }] },
      "25 values",
    ],
    ["magnitudes below zero", { slices: [{ ...slice("xy", 4), values: new Float64Array(16).fill(-1) }] }, "0 or above"],
    ["nothing finite", { slices: [{ ...slice("xy", 4), values: new Float64Array(16).fill(NaN) }] }, "no finite value"],
    ["a range that descends", { slices: [{ ...slice("xy", 4), up_m: [1, 0] as const }] }, "a range that ascends"],
    ["a single row", { slices: [{ ...slice("xy", 4), shape: [1, 16] as const }] }, "2 rows and 2 columns"],
    ["a plane that lies nowhere", { slices: [{ ...slice("xy", 4), at_m: NaN }] }, "the place of the plane"],
  ])("refuses %s", async (_, change, words) => {
    await expect(fieldSliceFigure({ ...data, ...change })).rejects.toThrow(words);
  });
});
