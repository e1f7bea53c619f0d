import { parseHTML } from "linkedom";
import { describe, expect, it } from "vitest";
import type { GridMap } from "../imaging/index.js";
import { figureCsv } from "./figure.js";
import { mapSlicesFigure } from "./map-slices.js";
import { type OutlinedRegion, regionOutline } from "./region-outline.js";
import { regionSlicesFigure } from "./region-slices.js";

const shape = [9, 3, 5] as const;
const at = (x: number, y: number, z: number) => (z * shape[1] + y) * shape[2] + x;
const values = Float64Array.from({ length: 135 }, (_, i) => 0.01 * Math.sin(i));
values[at(4, 1, 6)] = 0.8;
values[at(4, 1, 7)] = -0.3;

const map: GridMap = {
  kind: "iron",
  unit: "kg/m3",
  grid: { shape, spacing_m: [1e-3, 2e-3, 1.5e-3], origin_m: [-2e-3, -2e-3, -6e-3] },
  values,
  standardUncertainty: values.map(() => 0.01),
};
const ball: OutlinedRegion = {
  label: "a region with a name that goes on and on and does not stop where a picture would like it to",
  shape: { kind: "sphere", center_m: [2e-3, 0, 3e-3], diameter_m: 2e-3 },
};
const box: OutlinedRegion = {
  label: "<script>",
  shape: { kind: "box", center_m: [0, 0, 0], size_m: [2e-3, 2e-3, 2e-3] },
};

/** Voxels of one view; its frame has no fill. */
function cellsOf(svg: string, view: number) {
  const panels = [...parseHTML(svg).document.querySelectorAll("svg svg svg")];
  return [...panels[view].querySelectorAll('rect[fill^="#"]')].map((rect) => ({
    fill: rect.getAttribute("fill"),
    ...Object.fromEntries(["x", "y", "width", "height"].map((name) => [name, Number(rect.getAttribute(name))])),
  })) as { fill: string; x: number; y: number; width: number; height: number }[];
}

describe("mapSlicesFigure", () => {
  it("cuts through the largest voxel and draws voxels in their physical proportions", async () => {
    const { svg, data } = await mapSlicesFigure({ title: "t", map, regions: [ball, box] });
    expect(svg).toContain("y = 0 mm");
    expect(svg).toContain("z = 3 mm");
    expect(svg).toContain("x = 2 mm");
    const main = cellsOf(svg, 0);
    expect(main).toHaveLength(45);
    // Across z (1.5 mm), up x (1 mm); a thousandth: edges are rounded where the library writes them.
    expect(main[0].width / main[0].height).toBeCloseTo(1.5, 3);
    const side = cellsOf(svg, 1);
    expect(side[0].width / main[0].width).toBeCloseTo(2 / 1.5, 3);
    const [view, , , , iron] = data;
    expect(Array.from(view.values).filter((each) => each === 0)).toHaveLength(45);
    expect(Math.max(...Array.from(iron.values))).toBe(0.8);
  });
  it("puts the largest voxel where its coordinates are, darkest of all; up is more", async () => {
    const { svg } = await mapSlicesFigure({ title: "t", map, regions: [] });
    const cells = cellsOf(svg, 0);
    const sum = ({ fill }: { fill: string }) =>
      [1, 3, 5].reduce((s, i) => s + Number.parseInt(fill.slice(i, i + 2), 16), 0);
    const darkest = cells.reduce((a, b) => (sum(b) < sum(a) ? b : a));
    const columns = [...new Set(cells.map(({ x }) => x))].sort((a, b) => a - b);
    const rows = [...new Set(cells.map(({ y }) => y))].sort((a, b) => b - a);
    expect(columns.indexOf(darkest.x)).toBe(6);
    expect(rows.indexOf(darkest.y)).toBe(4);
  });
  it("keeps the bar symmetric at a given limit, so that maps of a series can be compared", async () => {
    const { svg } = await mapSlicesFigure({ title: "t", map, regions: [] }, { limit: 2 });
    for (const tick of [">2<", ">1<", ">\u22121<", ">\u22122<", "mg Fe/mL"]) expect(svg).toContain(tick);
  });
  it("escapes and shortens names, prints no number that is none, and gives its numbers", async () => {
    const figure = await mapSlicesFigure({ title: "t", map, regions: [ball, box] });
    expect(figure.svg).not.toContain("<script");
    expect(figure.svg).toContain("2 &lt;script&gt;");
    expect(figure.svg.match(/NaN|undefined|Infinity/)).toBeNull();
    expect(figureCsv(figure)).toMatch(/^view \[1\],x \[m\],y \[m\],z \[m\],iron_concentration \[kg\/m3\]\r\n/);
  });
  it("refuses a point outside the map, with the range that it has", async () => {
    const far = { title: "t", map, regions: [], through_m: [0, 0, 1] as const };
    await expect(mapSlicesFigure(far)).rejects.toThrow(/z = 1000 mm.*z from -6.75/);
  });
  it("an all-zero map is drawn, not divided by", async () => {
    const empty = { ...map, values: new Float64Array(135) };
    expect((await mapSlicesFigure({ title: "t", map: empty, regions: [] })).svg.match(/NaN|Infinity/)).toBeNull();
  });
});

describe("regionSlicesFigure", () => {
  it("shows every region once, in a plane through its centre", async () => {
    const { svg, data } = await regionSlicesFigure({ title: "t", map, regions: [ball, box] });
    expect(svg).toContain("z = 3 mm");
    expect(svg).toContain("z = 0 mm");
    expect(data[0].values).toHaveLength(2 * 15);
    expect((await regionSlicesFigure({ title: "t", map, regions: [] })).svg.match(/NaN|Infinity/)).toBeNull();
  });
});

describe("regionSlicesFigure, outside the map", () => {
  it("says which region lies outside", async () => {
    const away: OutlinedRegion = { label: "far", shape: { kind: "sphere", center_m: [1, 0, 0], diameter_m: 1e-3 } };
    await expect(regionSlicesFigure({ title: "t", map, regions: [away] })).rejects.toThrow(/region "far".*x = 1000 mm/);
  });
});

describe("regionOutline", () => {
  it("lies on the sphere and in the plane (|p - c| = r), and is empty where the plane misses", () => {
    const outline = regionOutline(ball, { across: 2, up: 0, normal: 1, at_m: 0.6e-3 });
    for (const [z, x] of outline) {
      const away = Math.hypot(x - 2e-3, 0.6e-3, z - 3e-3);
      expect(away).toBeCloseTo(1e-3, 12); // rounding of the square root only
    }
    expect(outline.length).toBeGreaterThan(40);
    expect(regionOutline(ball, { across: 2, up: 0, normal: 1, at_m: 1.1e-3 })).toEqual([]);
    expect(regionOutline(box, { across: 0, up: 1, normal: 2, at_m: 1.1e-3 })).toEqual([]);
    expect(regionOutline(box, { across: 0, up: 1, normal: 2, at_m: 0 })).toHaveLength(5);
  });
});
