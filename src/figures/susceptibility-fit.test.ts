import { parseHTML } from "linkedom";
import { describe, expect, it } from "vitest";
import { figureCsv } from "./figure.js";
import { logDomain, powerTick } from "./log-axis.js";
import { type SusceptibilityFitFigureData, susceptibilityFitFigure } from "./susceptibility-fit.js";

const even = (low: number, high: number, n: number) =>
  Float64Array.from({ length: n }, (_, i) => low * (high / low) ** (i / (n - 1)));
const debye = (frequency_Hz: Float64Array) => {
  const wt = frequency_Hz.map((f) => 2 * Math.PI * f * 1e-4);
  return { real: wt.map((x) => 3e-3 / (1 + x * x)), imaginary: wt.map((x) => (3e-3 * x) / (1 + x * x)) };
};
const [frequency_Hz, fine] = [even(10, 1e5, 21), even(10, 1e5, 200)];
const data: SusceptibilityFitFigureData = {
  title: "Invented",
  frequency_Hz,
  ...debye(frequency_Hz),
  sigmaReal: frequency_Hz.map(() => 1e-4),
  sigmaImaginary: frequency_Hz.map(() => 2e-4),
  line: { frequency_Hz: fine, ...debye(fine) },
  unit: "1",
  basis: "per volume of the sample",
};

const panelOf = (svg: string) => [...parseHTML(svg).document.querySelectorAll("svg > svg")].at(-1)!;

/** Places of the marks of one part: 0 in phase, 1 out of phase. */
const marks = (svg: string, part: number) =>
  [...[...panelOf(svg).querySelectorAll('[aria-label="dot"]')][part].querySelectorAll("path, circle")].map((mark) =>
    mark.hasAttribute("cx")
      ? [Number(mark.getAttribute("cx")), Number(mark.getAttribute("cy"))]
      : mark
          .getAttribute("transform")!
          .match(/\(([\d.]+),([\d.]+)\)/)!
          .slice(1)
          .map(Number),
  );

/** Heights at which the two signs are written. */
const signs = (svg: string) =>
  [...panelOf(svg).querySelectorAll("text")]
    .filter(({ textContent }) => /^\u03c7[\u2032\u2033]$/.test(textContent!))
    .map((text) => Number(text.getAttribute("transform")!.match(/,([\d.]+)\)/)![1]));

describe("susceptibilityFitFigure", () => {
  it("draws both parts on one linear axis over the logarithm of the frequency", async () => {
    const { svg } = await susceptibilityFitFigure(data);
    const [real, imaginary] = [marks(svg, 0), marks(svg, 1)];
    expect([real.length, imaginary.length]).toEqual([21, 21]);
    expect(imaginary.map(([x]) => x)).toEqual(real.map(([x]) => x));
    for (let i = 1; i < 21; i++) {
      // even in ln f: the same step everywhere; picture elements are written in full
      expect(real[i][0] - real[i - 1][0]).toBeCloseTo(real[1][0] - real[0][0], 8);
    }
    // one scale for both parts: chi' and chi'' differ by what the values differ
    const perUnit = (real[20][1] - real[0][1]) / (data.real[0] - data.real[20]);
    for (const i of [0, 7, 20]) {
      expect(imaginary[i][1] - real[i][1]).toBeCloseTo(perUnit * (data.real[i] - data.imaginary[i]), 6);
    }
  });
  it("draws bars of one sd for the part that has them", async () => {
    const bars = (svg: string) => panelOf(svg).querySelectorAll('[aria-label="link"] path').length;
    expect(bars((await susceptibilityFitFigure(data)).svg)).toBe(42);
    const half = await susceptibilityFitFigure({ ...data, sigmaImaginary: undefined });
    expect(bars(half.svg)).toBe(21);
    expect(half.svg).toContain("\u03c7\u2032 measured \u00b1 1 sd");
    expect(half.svg).not.toContain("\u03c7\u2033 measured \u00b1");
  });
  it("names the lines at their ends, apart even where both end at the same value", async () => {
    const zero = fine.map(() => 0);
    for (const line of [data.line, { frequency_Hz: fine, real: zero, imaginary: zero }]) {
      const [a, b] = signs((await susceptibilityFitFigure({ ...data, line })).svg);
      expect(Math.abs(a - b)).toBeGreaterThan(16); // the letters are 16 px high
      expect(Math.max(a, b)).toBeLessThan(360 - 46); // above the axis's numbers
    }
  });
  it("puts a power of a thousand into the unit, and no unit where there is none", async () => {
    const label = async (unit: string, factor = 1) => {
      const scaled = {
        real: data.real.map((v) => v * factor),
        line: { ...data.line, real: data.line.real.map((v) => v * factor) },
      };
      const { svg } = await susceptibilityFitFigure({ ...data, ...scaled, unit });
      const texts = [...panelOf(svg).querySelectorAll("text")].map(({ textContent }) => textContent!);
      return texts.find((text) => text.startsWith("Susceptibility"));
    };
    expect(await label("1")).toBe("Susceptibility (10\u207b\u00b3)");
    expect(await label("m3/kg")).toBe("Susceptibility (10\u207b\u00b3 m\u00b3/kg)");
    expect(await label("arbitrary", 100)).toBe("Susceptibility (arbitrary units)");
    expect(await label("1", 100)).toBe("Susceptibility");
  });
  it("says frequencies in Hz, kHz, MHz, and what the sample is divided by", async () => {
    const text = (await susceptibilityFitFigure(data)).svg;
    for (const words of [">10 Hz<", ">1 kHz<", ">100 kHz<", ">Frequency<", "per volume of the sample", "<desc>"]) {
      expect(text).toContain(words);
    }
    expect(text).not.toMatch(/NaN|undefined|Infinity/);
  });
  it("carries its numbers: measured first, the line after them, cells that do not apply empty", async () => {
    const [header, first, ...rest] = figureCsv(await susceptibilityFitFigure(data))
      .trimEnd()
      .split("\r\n");
    expect(header).toBe(
      "frequency [Hz],real [1],sigma_real [1],imaginary [1],sigma_imaginary [1],fitted_real [1],fitted_imaginary [1]",
    );
    expect(first).toBe(`10,${data.real[0]},0.0001,${data.imaginary[0]},0.0002,,`);
    expect(rest).toHaveLength(220);
    expect(rest.at(-1)).toBe(`${fine[199]},,,,,${data.line.real[199]},${data.line.imaginary[199]}`);
  });
  it("gives the same bytes whatever the order of the line", async () => {
    const { frequency_Hz: f, real, imaginary } = data.line;
    const line = { frequency_Hz: f.toReversed(), real: real.toReversed(), imaginary: imaginary.toReversed() };
    expect((await susceptibilityFitFigure({ ...data, line })).svg).toBe((await susceptibilityFitFigure(data)).svg);
  });
  it.each([
    ["a value too few", { real: new Float64Array(3) }, "21 values, one for each frequency"],
    ["a line whose parts differ", { line: { ...data.line, imaginary: new Float64Array(3) } }, "200 values"],
    ["a frequency of 0", { frequency_Hz: frequency_Hz.map((f, i) => (i === 0 ? 0 : f)) }, "a frequency of 0 Hz"],
  ])("refuses %s", async (_, change, words) => {
    await expect(susceptibilityFitFigure({ ...data, ...change })).rejects.toThrow(words);
  });
});

describe("powerTick and logDomain", () => {
  it.each([
    [0.001, "0.001"],
    [2000, "2000"],
    [1e-12, "10\u207b\u00b9\u00b2"],
    [3e6, "3\u00d710\u2076"],
  ])("%d -> %s", (value, text) => expect(powerTick(value)).toBe(text));
  it("keeps room around one value and around many", () => {
    expect(logDomain([3], 0.05)).toEqual([2, 4.5]);
    expect(logDomain([1, 100], 0.5)).toEqual([0.1, 1000]);
  });
});
