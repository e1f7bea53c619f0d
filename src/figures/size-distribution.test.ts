import { parseHTML } from "linkedom";
import { describe, expect, it } from "vitest";
import { figureCsv } from "./figure.js";
import { headedSvg, keyPanel } from "./key-panel.js";
import { logTicks } from "./log-axis.js";
import { openCanvas } from "./render.js";
import { sizeDistributionFigure } from "./size-distribution.js";

const even = (low: number, high: number, n: number) =>
  Float64Array.from({ length: n }, (_, i) => low * (high / low) ** (i / (n - 1)));

/** exp(-(ln d/median)^2 / (2 sd^2)): a log-normal per unit ln d, not scaled. */
const logNormal = (diameter_m: Float64Array, median_m: number, logSd: number) =>
  diameter_m.map((d) => Math.exp(-(Math.log(d / median_m) ** 2) / (2 * logSd ** 2)));

const [median_m, logSd] = [20e-9, 0.2];
const diameter_m = even(2e-9, 100e-9, 120);
const volumeShare = logNormal(diameter_m, median_m, logSd);
const base = { title: "Invented", diameter_m, volumeShare };

const column = (figure: Awaited<ReturnType<typeof sizeDistributionFigure>>, name: string) =>
  Array.from(figure.data.find((each) => each.name === name)!.values);

const panelsOf = (svg: string) => [...parseHTML(svg).document.querySelectorAll("svg > svg")];

/** Corners of the line of a panel, in picture elements. */
const cornersOf = (panel: ReturnType<typeof panelsOf>[number]) =>
  [
    ...panel
      .querySelector('[aria-label="line"] path')!
      .getAttribute("d")!
      .matchAll(/[ML]?(-?[\d.]+),(-?[\d.]+)/g),
  ].map(([, x, y]) => [Number(x), Number(y)]);

describe("sizeDistributionFigure", () => {
  it("turns a log-normal by volume into the one by number: median m exp(-3 s^2), same s, area 1", async () => {
    // Hatch & Choate (1929), from memory: moments of a log-normal are log-normals.
    const figure = await sizeDistributionFigure(base);
    const closed = (median: number) =>
      logNormal(diameter_m, median, logSd).map((value) => value / (logSd * Math.sqrt(2 * Math.PI)));
    const [byVolume, byNumber] = ["volume_share_per_ln_d", "number_share_per_ln_d"].map((name) => column(figure, name));
    const worst = (found: number[], truth: Float64Array) => Math.max(...found.map((v, i) => Math.abs(v - truth[i])));
    // The sum over an even grid with 6 cells per sd is exact to rounding; the ends lie 8 sd from the medians.
    expect(worst(byVolume, closed(median_m))).toBeLessThan(1e-12);
    expect(worst(byNumber, closed(median_m * Math.exp(-3 * logSd ** 2)))).toBeLessThan(1e-12);
  });
  it("draws an area of 1 in both panels, on a grid that is uneven in ln d", async () => {
    const uneven = Float64Array.from([5e-9, 6e-9, 9e-9, 10e-9, 20e-9, 22e-9]);
    const curve = { label: "flat", diameter_m: uneven, density: uneven.map(() => 3) };
    const figure = await sizeDistributionFigure({
      ...base,
      diameter_m: uneven,
      volumeShare: Float64Array.from([1, 3, 2, 7, 4, 1]),
      curves: [curve],
    });
    const [, ...panels] = panelsOf(figure.svg);
    const spread = Math.log(22e-9 / 20e-9) / 2 + Math.log(22 / 5) + Math.log(6 / 5) / 2;
    for (const [i, panel] of panels.entries()) {
      const corners = cornersOf(panel);
      const bottom = Number(panel.querySelector('[aria-label="rule"] line')!.getAttribute("y1"));
      const perLn = (corners.at(-1)![0] - corners[0][0]) / spread;
      const name = ["volume_share_per_ln_d", "number_share_per_ln_d"][i];
      const highest = Math.max(...column(figure, name).slice(0, uneven.length));
      const perDensity = (bottom - Math.min(...corners.map(([, y]) => y))) / highest;
      const area = corners
        .slice(1)
        .reduce((sum, [x, y], j) => sum + (x - corners[j][0]) * (bottom - (y + corners[j][1]) / 2), 0);
      // Paths are written to 0.001 picture elements: 3e-6 of a column 170 high, for the area and for its scale.
      expect(Math.abs(area / perLn / perDensity - 1)).toBeLessThan(1e-5);
    }
    // A constant 3 over ln(22/5) with area 1.
    expect(column(figure, "volume_share_per_ln_d").at(-1)).toBeCloseTo(1 / Math.log(22 / 5), 12);
  });
  it("labels both panels always, says what is normalised, and titles the axis in nm", async () => {
    const { svg } = await sizeDistributionFigure(base);
    const [, volume, number] = panelsOf(svg).map((panel) => panel.textContent!);
    expect(volume).toContain("By volume: share of the core volume");
    expect(number).toContain("By number: share of the particles");
    for (const text of [volume, number]) expect(text).toContain("Per unit ln d (area 1)");
    expect(number).toContain("Core diameter (nm)");
    expect(svg).toContain("<desc>Distribution of core diameters in 120 cells, by volume and by number.</desc>");
    expect(svg).not.toMatch(/NaN|undefined|Infinity|replicas/);
  });
  it("draws the band in the scale of the shares, and in the panel by volume only", async () => {
    const [low, high] = [0.8, 1.3].map((factor) => volumeShare.map((share) => factor * share));
    const figure = await sizeDistributionFigure({ ...base, low, high });
    const shares = column(figure, "volume_share_per_ln_d");
    expect(column(figure, "volume_share_per_ln_d_low")[60] / shares[60]).toBeCloseTo(0.8, 12);
    expect(column(figure, "volume_share_per_ln_d_high")[60] / shares[60]).toBeCloseTo(1.3, 12);
    const areas = panelsOf(figure.svg)
      .slice(1)
      .map((panel) => panel.querySelectorAll('[aria-label="area"] path').length);
    expect(areas).toEqual([1, 0]);
    expect(figure.svg).toContain("2.5 % to 97.5 % of the replicas (by volume)");
  });
  it("takes shares by number as given, names every curve, and fills a table of equal columns", async () => {
    const numberShare = volumeShare.map((_, i) => (i === 30 ? 2 : 0));
    const curves = ["a fit", "another"].map((label) => ({ label, diameter_m, density: volumeShare }));
    const figure = await sizeDistributionFigure({ ...base, numberShare, curves });
    const step = Math.log(diameter_m[1] / diameter_m[0]);
    expect(column(figure, "number_share_per_ln_d")[30]).toBeCloseTo(1 / step, 9);
    expect(figure.svg).toContain("another");
    const rows = figureCsv(figure).trimEnd().split("\r\n");
    expect(rows).toHaveLength(1 + 3 * 120);
    expect(rows[0]).toContain("series [0: distribution; 1: a fit; 2: another]");
  });
  it("gives the same bytes for the same data", async () => {
    expect((await sizeDistributionFigure(base)).svg).toBe((await sizeDistributionFigure(base)).svg);
  });
  it.each([
    ["a share too few", { volumeShare: volumeShare.subarray(1) }, "120 values, one for each diameter"],
    ["half a band", { low: volumeShare }, "low and high, or neither"],
    ["diameters that do not ascend", { diameter_m: diameter_m.toReversed() }, "do not ascend"],
    ["negative shares", { volumeShare: volumeShare.map((v) => -v) }, "negative"],
    ["nothing", { volumeShare: new Float64Array(120) }, "only zeros"],
  ])("refuses %s", async (_, change, words) => {
    await expect(sizeDistributionFigure({ ...base, ...change })).rejects.toThrow(words);
  });
});

describe("logTicks", () => {
  it.each([
    [
      [3, 60],
      [5, 10, 20, 50],
    ],
    [
      [0.5, 2e6],
      [1, 10, 100, 1000, 1e4, 1e5, 1e6],
    ],
    [
      [21, 27],
      [22, 24, 26],
    ],
    [
      [1e-20, 1],
      [1e-20, 1e-17, 1e-14, 1e-11, 1e-8, 1e-5, 1e-2],
    ],
  ] as const)("%j -> %j", (range, ticks) => expect(logTicks(range)).toEqual(ticks));
});

describe("keyPanel and headedSvg", () => {
  it("breaks rows before the edge and cuts words that are longer than a row", async () => {
    const size = { width: 300, canvas: await openCanvas() };
    const entries = ["measured \u00b1 1 sd", "a fit", "per mass of iron", "", "long ".repeat(30)];
    const panel = keyPanel(
      entries.map((words) => ({ words, colour: "#000000", line: {} })),
      size,
    );
    const texts = [...parseHTML(panel.outerHTML).document.querySelectorAll("text")];
    expect(texts).toHaveLength(4);
    const rows = texts.map((text) =>
      text
        .getAttribute("transform")!
        .match(/\(([\d.]+),([\d.]+)\)/)!
        .map(Number),
    );
    for (const [i, [, x]] of rows.entries()) {
      // 7.3 px a letter: the widest of the sentences measured in the widest font
      expect(x + 7.3 * texts[i].textContent!.length).toBeLessThan(300 - 8);
    }
    expect(texts[3].textContent).toMatch(/\u2026$/);
    expect(new Set(rows.map(([, , y]) => y)).size).toBeGreaterThan(1);
  });
  it("cuts a long title, keeps all of it in the description, and wraps the subtitle", async () => {
    const size = { width: 720, canvas: await openCanvas() };
    const head = {
      title: "Title ".repeat(20).trim(),
      subtitle: "words ".repeat(40).trim(),
      description: "What it is.",
    };
    const svg = headedSvg([keyPanel([], size)], head, size);
    const { document } = parseHTML(svg);
    expect(document.querySelector("title")!.textContent).toMatch(/\u2026$/);
    expect(document.querySelector("desc")!.textContent).toBe(`${head.title}. What it is.`);
    expect(document.querySelector("svg")!.textContent!.match(/words/g)).toHaveLength(40);
  });
});
