import { parseHTML } from "linkedom";
import { describe, expect, it } from "vitest";
import { type CurveFitFigureData, curveFitFigure } from "./curve-fit.js";
import { figureCsv } from "./figure.js";

const field_T = Float64Array.from({ length: 30 }, (_, i) => 1e-4 * 10 ** (i / 7));
const data: CurveFitFigureData = {
  title: 'A & B < C "quoted"',
  field_T,
  magnetisation: field_T.map((b, i) => 100 * Math.tanh(30 * b) + Math.sin(i)),
  sigma: new Float64Array(30).fill(2),
  fitted: field_T.map((b) => 100 * Math.tanh(30 * b)),
  magnetisationUnit: "A.m2/kg",
  basis: "per kg of iron",
};

interface Dot {
  readonly x: number;
  readonly y: number;
}

/** Dots of one panel as drawn. */
function dots(svg: string, panel: number): Dot[] {
  const panels = [...parseHTML(svg).document.querySelectorAll("svg > svg")];
  return [...panels[panel].querySelectorAll("circle")].map((circle) => ({
    x: Number(circle.getAttribute("cx")),
    y: Number(circle.getAttribute("cy")),
  }));
}

/** Largest distance of the points (u, v) from the straight line through the first and the last, in units of v. */
function bend(u: number[], v: number[]): number {
  const slope = (v.at(-1)! - v[0]) / (u.at(-1)! - u[0]);
  return Math.max(...u.map((each, i) => Math.abs(v[i] - v[0] - slope * (each - u[0]))));
}

describe("curveFitFigure", () => {
  it("draws every value where its scales put it: log field across, magnetisation and residual/sd up", async () => {
    const { svg } = await curveFitFigure(data);
    const [curve, residuals] = [dots(svg, 0), dots(svg, 1)];
    expect(curve).toHaveLength(30);
    expect(residuals).toHaveLength(30);
    const logField = [...field_T].map(Math.log10);
    // 1e-9 of a picture element: the numbers are written in full
    expect(
      bend(
        logField,
        curve.map(({ x }) => x),
      ),
    ).toBeLessThan(1e-9);
    expect(residuals.map(({ x }) => x)).toEqual(curve.map(({ x }) => x));
    expect(
      bend(
        [...data.magnetisation],
        curve.map(({ y }) => y),
      ),
    ).toBeLessThan(1e-9);
    const residual = [...data.magnetisation].map((m, i) => (m - data.fitted[i]) / 2);
    expect(
      bend(
        residual,
        residuals.map(({ y }) => y),
      ),
    ).toBeLessThan(1e-9);
    expect(curve.at(-1)!.y).toBeLessThan(curve[0].y); // up is more
  });
  it("is one SVG document: namespace, white ground, title escaped and readable, labels with units", async () => {
    const { svg } = await curveFitFigure(data);
    expect(svg.startsWith('<svg xmlns="http://www.w3.org/2000/svg"')).toBe(true);
    expect(svg).toContain("<title>A &amp; B &lt; C &quot;quoted&quot;</title>");
    expect(svg).toMatch(/<rect width="720" height="\d+" fill="#ffffff"\/>/);
    const text = parseHTML(svg).document.querySelector("svg")!.textContent!;
    for (const label of [
      "Magnetisation (A m\u00b2/kg)",
      "Applied field \u00b50H (mT)",
      "Residual / sd",
      "per kg of iron",
    ]) {
      expect(text).toContain(label);
    }
  });
  it("gives the same bytes for the same data", async () => {
    expect((await curveFitFigure(data)).svg).toBe((await curveFitFigure(data)).svg);
  });
  it("draws error bars of one sd, and none without sigma", async () => {
    const bars = (svg: string) =>
      [...parseHTML(svg).document.querySelectorAll("svg > svg")][0].querySelectorAll('[aria-label="link"] path').length;
    expect(bars((await curveFitFigure(data)).svg)).toBe(30);
    const without = await curveFitFigure({ ...data, sigma: undefined });
    expect(bars(without.svg)).toBe(0);
    expect(without.svg).toContain("Residual (A m\u00b2/kg)");
  });
  it("draws a loop through zero", async () => {
    const loop = Float64Array.from({ length: 41 }, (_, i) => 0.1 * Math.cos((i * Math.PI) / 20));
    const m = loop.map((b) => 1000 * b);
    const { svg } = await curveFitFigure({ ...data, field_T: loop, magnetisation: m, fitted: m, sigma: undefined });
    expect(dots(svg, 0)).toHaveLength(41);
    expect(svg).not.toContain("NaN");
  });
  it("carries its numbers: CSV reads back to the same doubles", async () => {
    const [header, ...rows] = figureCsv(await curveFitFigure(data))
      .trimEnd()
      .split("\r\n");
    expect(header).toBe("field [T],magnetisation [A.m2/kg],sigma [A.m2/kg],fitted [A.m2/kg],residual [1]");
    expect(rows.map((row) => Number(row.split(",")[0]))).toEqual([...field_T]);
    expect(rows.map((row) => Number(row.split(",")[1]))).toEqual([...data.magnetisation]);
  });
  it("draws at most 2000 of many points, says so, and keeps every number", async () => {
    const n = 200_000;
    const many = Float64Array.from({ length: n }, (_, i) => (i - n / 2) * 1e-5);
    const magnetisation = many.map((field) => Math.tanh(10 * field));
    const figure = await curveFitFigure({
      ...data,
      field_T: many,
      magnetisation,
      sigma: magnetisation.map(() => 0.1),
      fitted: magnetisation,
      line: undefined,
    });
    expect(figure.svg).toContain("2000 of 200000 points drawn (one in 100)");
    // 0.15 MB per 1000 points with error bar and residual; a browser or a mail takes 1 MB
    expect(figure.svg.length).toBeLessThan(1e6);
    expect(figure.data.map(({ values }) => values.length)).toEqual([n, n, n, n, n]);
  });
  it("refuses arrays that do not fit", async () => {
    await expect(curveFitFigure({ ...data, fitted: new Float64Array(3) })).rejects.toThrow(
      "30 values, one for each field",
    );
  });
});

describe("figureCsv", () => {
  it("quotes by RFC 4180, leaves non-finite cells empty, refuses uneven columns", () => {
    const column = (values: number[], name = 'a,"b"') => ({ name, unit: "T", values });
    expect(figureCsv({ data: [column([1, Number.NaN])] })).toBe('"a,""b"" [T]"\r\n1\r\n\r\n');
    expect(() => figureCsv({ data: [column([1]), column([1, 2], "c")] })).toThrow("2 values in c");
  });
});
