import { parseHTML } from "linkedom";
import { describe, expect, it } from "vitest";
import { figureCsv } from "./figure.js";
import { type TradeOffFigureData, tradeOffFigure } from "./trade-off.js";

const x = { name: "Gradient", unit: "T/m", values: Float64Array.of(0.5, 1, 2, 4, 8), scale: "log" as const };
const y = { name: "Bore diameter", unit: "mm", values: Float64Array.of(40, 80, 160, 320), scale: "log" as const };
const grid = (f: (gradient: number, bore: number) => number) =>
  Float64Array.from({ length: 20 }, (_, i) => f(x.values[i % 5], y.values[Math.floor(i / 5)]));
/** Halves of the field, left and right, each with a limit and a verdict of its own. */
const binding = {
  class: "scan subject" as const,
  names: ["nerve stimulation, drive x", "never first", "heating"],
  index: Int8Array.from({ length: 20 }, (_, i) => (i % 5 < 2 ? 0 : 2)),
  verdict: Int8Array.from({ length: 20 }, (_, i) => (i % 5 < 2 ? 0 : 2)),
};
const data: TradeOffFigureData = {
  title: "Invented",
  x,
  y,
  panels: [
    { name: "Power", unit: "kW", values: grid((g, d) => g * d), scale: "log" },
    { name: "Static width", unit: "mm", values: grid((g) => 5 / g), scale: "linear" },
  ],
  binding: [binding],
};

const documentOf = (svg: string) => parseHTML(svg).document;
/** Panels that hold cells, in reading order. */
const mapsOf = (svg: string) =>
  [...documentOf(svg).querySelectorAll("svg svg")].filter(
    (panel) => !panel.querySelector("svg") && panel.querySelector('[aria-label="x-axis label"]'),
  );
type Panel = ReturnType<typeof mapsOf>[number];
const texts = (panel: Panel) => [...panel.querySelectorAll("text")].map((text) => text.textContent);
const cellsOf = (panel: Panel) =>
  [...panel.querySelectorAll('[aria-label="rect"] rect')].map((rect) => ({
    fill: rect.getAttribute("fill")!,
    x: Number(rect.getAttribute("x")),
    y: Number(rect.getAttribute("y")),
    width: Number(rect.getAttribute("width")),
  }));
const brightness = (fill: string) => [1, 3, 5].reduce((sum, i) => sum + Number.parseInt(fill.slice(i, i + 2), 16), 0);

describe("tradeOffFigure", () => {
  it("draws equal ratios as equal cells, and colours a quantity by its own scale", async () => {
    const [power] = mapsOf((await tradeOffFigure(data)).svg);
    const cells = cellsOf(power);
    expect(cells).toHaveLength(20);
    for (const { width } of cells) expect(width).toBeCloseTo(cells[0].width, 2);
    // g * d is constant along a diagonal of doublings: one colour there; up and right is more, and darker.
    expect(cells[6].fill).toBe(cells[2].fill);
    expect(cells[6].fill).not.toBe(cells[1].fill);
    expect(brightness(cells[19].fill)).toBeLessThan(brightness(cells[0].fill));
    expect(cells[19].y).toBeLessThan(cells[0].y);
    for (const words of ["Power (kW)", "Gradient (T/m)", "Bore diameter (mm)"]) expect(texts(power)).toContain(words);
  });
  it("sets labelled contours where the quantity has their value, linear on the drawn scales", async () => {
    const panels = [{ name: "Power", unit: "kW", values: grid((g, d) => (g * d) / 32), scale: "log" as const }];
    const [power] = mapsOf((await tradeOffFigure({ title: "t", x, y, panels })).svg);
    expect(texts(power)).toEqual(expect.arrayContaining(["1", "10"]));
    const cells = cellsOf(power);
    const perDoubling = cells[0].width;
    const lines = [...power.querySelectorAll('[aria-label="line"] path')].map((path) =>
      [...path.getAttribute("d")!.matchAll(/(-?[\d.]+),(-?[\d.]+)/g)].map(([, a, b]) => [Number(a), Number(b)]),
    );
    // In doublings from the first cell's centre, g d / 32 = 0.625 * 2^(u + v): straight lines u + v = const.
    const sums = lines.map((points) => {
      const at = points.map(([a, b]) => {
        const u = (a - cells[0].x) / perDoubling - 0.5;
        const v = (cells[0].y - b) / (190 / 4) + 0.5;
        return u + v;
      });
      expect(Math.max(...at) - Math.min(...at)).toBeLessThan(1e-3);
      return at[0];
    });
    for (const level of [1, 10]) {
      const expected = Math.log2(level / 0.625);
      expect(Math.min(...sums.map((sum) => Math.abs(sum - expected)))).toBeLessThan(1e-3);
    }
  });
  it("shows the first limit by number, the verdict in greys and hatching, and never in colour", async () => {
    const { svg } = await tradeOffFigure(data);
    const panel = mapsOf(svg)[2];
    expect(texts(panel)).toEqual(expect.arrayContaining(["1", "3", "First limit, scan subject"]));
    const cells = cellsOf(panel);
    expect(cells[0].fill).toBe("#ffffff");
    expect(cells[2].fill).not.toBe("#ffffff");
    const colours = [...panel.outerHTML.matchAll(/#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})/g)];
    expect(colours.length).toBeGreaterThan(10);
    for (const [, r, g, b] of colours) expect([g, b]).toEqual([r, r]);
    // Lines both ways over the right part only, whose left edge is that of the third column.
    const hatches = [...panel.querySelectorAll('[aria-label="link"] path')].map((path) => path.getAttribute("d")!);
    const starts = hatches.map((d) => Number(/M(-?[\d.]+)/.exec(d)![1]));
    expect(starts.length).toBeGreaterThan(50);
    expect(Math.min(...starts)).toBeGreaterThanOrEqual(cells[2].x - 0.01);
  });
  it("hatches each verdict in a way of its own, on the map as in the key", async () => {
    const looks = await Promise.all(
      [0, 1, 2, 3].map(async (verdict) => {
        const limits = { ...binding, index: new Int8Array(20), verdict: new Int8Array(20).fill(verdict) };
        const [panel] = mapsOf((await tradeOffFigure({ ...data, panels: [], binding: [limits] })).svg);
        const slopes = [...panel.querySelectorAll('[aria-label="link"] path')].flatMap((path) => {
          const [x1, y1, x2, y2] = [...path.getAttribute("d")!.matchAll(/-?[\d.]+/g)].map(Number);
          // Where a line only touches a corner, rounding as written leaves no slope.
          return Math.abs(x2 - x1) < 0.5 ? [] : [Math.sign((y2 - y1) / (x2 - x1))];
        });
        return { slopes: new Set(slopes).size, dots: panel.querySelectorAll('[aria-label="dot"] circle').length > 100 };
      }),
    );
    expect(looks).toEqual([
      { slopes: 0, dots: false },
      { slopes: 1, dots: false },
      { slopes: 2, dots: false },
      { slopes: 0, dots: true },
    ]);
    const { svg } = await tradeOffFigure(data);
    const key = [...documentOf(svg).querySelectorAll("svg > svg")].find((panel) =>
      texts(panel).includes("below every limit in our sources"),
    )!;
    const heights = [...key.querySelectorAll('[aria-label="link"] path')].map((path) =>
      Number(/M-?[\d.]+,(-?[\d.]+)/.exec(path.getAttribute("d")!)![1]),
    );
    // The second and the third sample have lines; the fourth has dots.
    expect(heights.every((y) => y >= 28 - 0.01 && y <= 63 + 0.01)).toBe(true);
    expect(heights.filter((y) => y > 45).length).toBeGreaterThan(heights.filter((y) => y < 45).length);
    expect(key.querySelectorAll('[aria-label="dot"] circle').length).toBeGreaterThan(5);
  });
  it("explains all four verdicts, only limits that come first, and who decides", async () => {
    const text = documentOf((await tradeOffFigure(data)).svg).querySelector("svg")!.textContent!;
    for (const words of [
      "below every limit in our sources",
      "between the limits of our sources",
      "above every limit in our sources",
      "no published threshold in our sources",
      "First limit, scan subject: 1 nerve stimulation, drive x",
      "3 heating",
      "Research use; not a medical device. Local codes, ethics approval and licensed practice decide.",
    ])
      expect(text).toContain(words);
    expect(text).not.toContain("never first");
    expect(text).not.toMatch(/\bsafe\b|feasible/i);
    const plain = documentOf((await tradeOffFigure({ ...data, binding: [] })).svg).querySelector("svg")!.textContent!;
    expect(plain).not.toContain("limit");
  });
  it("gives classes panels of their own", async () => {
    const animal = { ...binding, class: "animal" as const, verdict: new Int8Array(20).fill(3) };
    const { svg, data: columns } = await tradeOffFigure({ ...data, binding: [binding, animal] });
    expect(svg).toContain("First limit, animal");
    expect(columns.map(({ name }) => name)).toEqual([
      "gradient",
      "bore_diameter",
      "power",
      "static_width",
      "first_limit_scan_subject",
      "verdict_scan_subject",
      "first_limit_animal",
      "verdict_animal",
    ]);
    const dots = mapsOf(svg)[3].querySelectorAll('[aria-label="dot"] circle').length;
    expect(dots).toBeGreaterThan(100);
  });
  it("writes one row for each point, x fastest, with what the numbers mean", async () => {
    const values = data.panels[0].values.slice();
    values[3] = Number.NaN;
    const figure = await tradeOffFigure({ ...data, panels: [{ ...data.panels[0], values }] });
    expect(figure.svg).toContain("A crossed cell has no value.");
    expect(mapsOf(figure.svg)[0].querySelectorAll('[aria-label="link"] path')).toHaveLength(2);
    const rows = figureCsv(figure).split("\r\n");
    expect(rows).toHaveLength(22);
    expect(rows[0]).toContain("3: heating");
    expect(rows[1]).toBe("0.5,40,20,1,0");
    expect(rows[4]).toBe("4,40,,3,2");
    expect(figure.svg.match(/NaN|undefined|Infinity/)).toBeNull();
  });
  it("draws a quantity that is the same everywhere, and cuts no unit", async () => {
    const name = "A quantity whose name goes on and on and does not stop at the end of its panel at all";
    const panels = [{ name, unit: "uT/A", values: new Float64Array(20).fill(3), scale: "log" as const }];
    for (const width of [720, 480]) {
      const { svg } = await tradeOffFigure({ ...data, panels }, { width });
      expect(svg.match(/NaN|undefined|Infinity/)).toBeNull();
      expect(svg).toMatch(/\u2026 \(\u00b5T\/A\)/);
    }
  });
  it.each([
    ["no panel", { panels: [], binding: [] }, "one panel or more"],
    ["a value too few", { panels: [{ ...data.panels[0], values: new Float64Array(19).fill(1) }] }, "4 rows of 5"],
    ["nothing to draw", { panels: [{ ...data.panels[0], values: new Float64Array(20) }] }, "above 0"],
    ["a limit without a name", { binding: [{ ...binding, names: ["one"] }] }, "whole numbers from -1 to 0"],
    ["an unknown verdict", { binding: [{ ...binding, verdict: new Int8Array(20).fill(4) }] }, "from 0 to 3"],
    ["a verdict too few", { binding: [{ ...binding, verdict: new Int8Array(19) }] }, "4 rows of 5"],
    ["a sweep of one value", { x: { ...x, values: Float64Array.of(1) } }, "two values or more"],
  ])("refuses %s", async (_, change, words) => {
    await expect(tradeOffFigure({ ...data, ...change })).rejects.toThrow(words);
  });
});
