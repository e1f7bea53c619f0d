import { parseHTML } from "linkedom";
import { describe, expect, it } from "vitest";
import { figureCsv } from "./figure.js";
import { type TradeOffLinesFigureData, tradeOffLinesFigure } from "./trade-off-lines.js";

const x = { name: "Gradient", unit: "T/m", values: Float64Array.of(0.5, 1, 2, 4), scale: "log" as const };
const power = (factor: number) => x.values.map((g) => factor * g * g);
const data: TradeOffLinesFigureData = {
  title: "Invented",
  x,
  series: ["mouse bore", "head bore"],
  bands: "95 % interval",
  panels: [
    {
      name: "Power",
      unit: "kW",
      scale: "log",
      lines: [{ values: power(1), low: power(0.5), high: power(2) }, { values: power(100) }],
    },
    {
      name: "Static width",
      unit: "mm",
      scale: "linear",
      lines: [{ values: Float64Array.of(4, Number.NaN, 2, 1) }, { values: Float64Array.of(5, 4, 3, 2) }],
    },
  ],
};

const panelsOf = (svg: string) =>
  [...parseHTML(svg).document.querySelectorAll("svg svg")].filter(
    (panel) => !panel.querySelector("svg") && panel.querySelector('[aria-label="x-axis label"]'),
  );
type Panel = ReturnType<typeof panelsOf>[number];
const paths = (panel: Panel, kind: string) =>
  [...panel.querySelectorAll(`[aria-label="${kind}"] path`)].map((path) => path.getAttribute("d")!);
const pointsOf = (d: string) => [...d.matchAll(/(-?[\d.]+),(-?[\d.]+)/g)].map(([, a, b]) => [Number(a), Number(b)]);

describe("tradeOffLinesFigure", () => {
  it("draws squares as straight lines on logarithmic axes, a factor of 100 apart", async () => {
    const [panel] = panelsOf((await tradeOffLinesFigure(data)).svg);
    const [mouse, head] = paths(panel, "line").map(pointsOf);
    for (const i of [1, 2, 3]) expect(mouse[i][0] - mouse[i - 1][0]).toBeCloseTo(mouse[1][0] - mouse[0][0], 2);
    // Four times in each doubling: 100 is log4(100) of these steps.
    const step = mouse[0][1] - mouse[1][1];
    expect((mouse[0][1] - head[0][1]) / step).toBeCloseTo(Math.log(100) / Math.log(4), 3);
  });
  it("draws a band from low to high for the series that have one, and says what it is", async () => {
    const { svg } = await tradeOffLinesFigure(data);
    const [panel] = panelsOf(svg);
    const [band] = paths(panel, "area").map(pointsOf);
    expect(paths(panel, "area")).toHaveLength(1);
    const [mouse] = paths(panel, "line").map(pointsOf);
    const step = mouse[0][1] - mouse[1][1]; // a factor of 4
    const atStart = band.filter(([at]) => Math.abs(at - mouse[0][0]) < 0.01).map(([, up]) => mouse[0][1] - up);
    expect(Math.max(...atStart)).toBeCloseTo(step / 2, 2);
    expect(Math.min(...atStart)).toBeCloseTo(-step / 2, 2);
    expect(svg).toContain("95 % interval");
    const bare = { ...data, panels: data.panels.slice(1) };
    expect((await tradeOffLinesFigure(bare)).svg).not.toContain("95 % interval");
  });
  it("leaves a gap where there is no value, and takes a band that reaches zero to the edge of a logarithmic axis", async () => {
    const { svg } = await tradeOffLinesFigure(data);
    const [mouse] = paths(panelsOf(svg)[1], "line");
    expect(mouse.match(/M/g)).toHaveLength(2);
    const lines = [{ values: power(1), low: new Float64Array(4), high: power(2) }, { values: power(100) }];
    const zero = await tradeOffLinesFigure({ ...data, panels: [{ ...data.panels[0], lines }] });
    expect(zero.svg.match(/NaN|undefined|Infinity/)).toBeNull();
    const [panel] = panelsOf(zero.svg);
    const [band] = paths(panel, "area").map(pointsOf);
    const bottom = Number(panel.getAttribute("height")) - 44;
    expect(Math.max(...band.map(([, up]) => up))).toBeCloseTo(bottom, 2);
  });
  it("tells series apart by dash and mark, not by colour alone", async () => {
    const [panel] = panelsOf((await tradeOffLinesFigure(data)).svg);
    const dashes = [...panel.querySelectorAll('[aria-label="line"]')].map((line) =>
      line.getAttribute("stroke-dasharray"),
    );
    expect(dashes).toEqual([null, "7 3"]);
    const marks = [...panel.querySelectorAll('[aria-label="dot"]')].map((g) =>
      g.querySelector("path")?.getAttribute("d"),
    );
    expect(new Set(marks).size).toBe(2);
  });
  it("writes a row for each point of each line", async () => {
    const figure = await tradeOffLinesFigure(data);
    const rows = figureCsv(figure).split("\r\n");
    expect(rows).toHaveLength(2 + 16);
    expect(rows[0]).toContain("1: mouse bore; 2: head bore");
    expect(rows[1]).toBe("1,1,0.5,0.25,0.125,0.5");
    expect(rows[10]).toBe("2,1,1,,,");
  });
  it.each([
    ["no series", { series: [] }, "1 to 5 series"],
    ["no panel", { panels: [] }, "one panel or more"],
    ["a line too few", { series: ["a", "b", "c"] }, "3 lines, one for each series"],
    [
      "half a band",
      { panels: [{ ...data.panels[0], lines: [{ values: power(1), low: power(1) }, { values: power(1) }] }] },
      "both of low and high",
    ],
    [
      "a value too few",
      { panels: [{ ...data.panels[0], lines: [{ values: new Float64Array(3) }, { values: power(1) }] }] },
      "one for each Gradient",
    ],
    [
      "nothing above zero on a logarithmic axis",
      { panels: [{ ...data.panels[0], lines: [{ values: new Float64Array(4) }, { values: new Float64Array(4) }] }] },
      "values above 0",
    ],
  ])("refuses %s", async (_, change, words) => {
    await expect(tradeOffLinesFigure({ ...data, ...change })).rejects.toThrow(words);
  });
});
