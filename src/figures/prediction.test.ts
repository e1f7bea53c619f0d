import { parseHTML } from "linkedom";
import { describe, expect, it } from "vitest";
import { figureCsv } from "./figure.js";
import { type PredictedCurves, predictionFigure } from "./prediction.js";

const field_T = Float64Array.from({ length: 41 }, (_, i) => (i - 20) * 1e-3);
const bell = (height: number, shift_T: number) => ({
  field_T,
  response_per_T: field_T.map((b) => height / Math.cosh(200 * (b - shift_T)) ** 2),
});
const harmonics = (decay: number, n = 8) =>
  Array.from({ length: n }, (_, i) => ({ order: 2 * i + 1, moment_A_m2_per_kg: 60 * Math.exp(-decay * i) }));

const still: PredictedCurves = { name: "still", staticResponse: bell(80, 0), harmonics: harmonics(0.4) };
const moving: PredictedCurves = {
  name: "moving",
  staticResponse: bell(60, 0),
  forward: bell(40, 2e-3),
  backward: bell(40, -2e-3),
  harmonics: harmonics(0.8),
};
const head = { title: "Invented", subtitle: "sine drive along z" };

const panelsOf = (svg: string) => [...parseHTML(svg).document.querySelectorAll("svg > svg")].slice(1);
type Panel = ReturnType<typeof panelsOf>[number];

/** Places of every mark of a panel, one list for each tracer. */
const marks = (panel: Panel) =>
  [...panel.querySelectorAll('[aria-label="dot"]')].map((group) =>
    [...group.querySelectorAll("circle, path")].map((mark) =>
      mark.hasAttribute("cx")
        ? [Number(mark.getAttribute("cx")), Number(mark.getAttribute("cy"))]
        : (mark.getAttribute("transform")!.match(/-?[\d.]+/g) ?? []).map(Number),
    ),
  );

const lines = (panel: Panel) => [...panel.querySelectorAll('[aria-label="line"]')];

describe("predictionFigure", () => {
  it("draws static, rising and falling responses with strokes of their own", async () => {
    const [responses] = panelsOf((await predictionFigure({ ...head, tracers: [still, moving] })).svg);
    const looks = lines(responses).map((line) => [
      line.getAttribute("stroke-dasharray"),
      line.getAttribute("stroke-width"),
    ]);
    expect(looks).toEqual([
      ["5 4", "1.2"],
      ["5 4", "1.2"],
      [null, "2"],
      [null, null], // 1, which needs no attribute
    ]);
  });
  it("marks the top of each tracer's response: the rising one where the drive writes it", async () => {
    const [responses] = panelsOf((await predictionFigure({ ...head, tracers: [still, moving] })).svg);
    const [[[x0, y0]], [[x1, y1]]] = marks(responses);
    const grid = [...responses.querySelectorAll('[aria-label="y-grid"] line')].map((l) => Number(l.getAttribute("y1")));
    // 80 and 40 per tesla from one zero; 2 mT of 40 mT across 720 - 76 - 24 px
    expect((grid[0] - y0) / (grid[0] - y1)).toBeCloseTo(2, 6);
    expect(x1 - x0).toBeCloseTo((2 / 40) * 620, 6);
  });
  it("sets harmonics on a logarithmic axis, in a mark of its own for each tracer", async () => {
    const [, spectrum] = panelsOf((await predictionFigure({ ...head, tracers: [still, moving] })).svg);
    const [a, b] = marks(spectrum);
    expect([a.length, b.length]).toEqual([8, 8]);
    // exponential decays are straight, one twice as steep as the other
    const slope = (places: number[][]) => (places[7][1] - places[0][1]) / (places[7][0] - places[0][0]);
    expect(slope(b) / slope(a)).toBeCloseTo(2, 9);
    expect(a[3][1] - a[0][1]).toBeCloseTo((3 / 7) * (a[7][1] - a[0][1]), 9);
    const shape = (group: Panel) => group.querySelector("path")?.getAttribute("d") ?? "circle";
    const shapes = [...spectrum.querySelectorAll('[aria-label="dot"]')].map((group) => shape(group));
    expect(new Set(shapes).size).toBe(2);
  });
  it("explains only the strokes that occur", async () => {
    const words = async (tracers: PredictedCurves[]) => (await predictionFigure({ ...head, tracers })).svg;
    expect(await words([still])).toContain("static, no relaxation predicted");
    expect(await words([still])).not.toContain("rising");
    expect(await words([moving])).toContain("thick: field rising");
    expect(await words([moving])).not.toContain("dashed alone");
    expect(await words([still, moving])).toContain("dashed alone: no relaxation predicted");
  });
  it("numbers all harmonics without crowding, and keeps ticks on a short range of moments", async () => {
    const spectrumOf = async (tracer: PredictedCurves) =>
      panelsOf((await predictionFigure({ ...head, tracers: [tracer] })).svg)[1];
    const ticks = (panel: Panel, axis: string) =>
      [...panel.querySelectorAll(`[aria-label="${axis}-axis tick label"] text`)].map((text) => text.textContent);
    expect(ticks(await spectrumOf(still), "x")).toEqual(["1", "3", "5", "7", "9", "11", "13", "15"]);
    expect(ticks(await spectrumOf({ ...still, harmonics: harmonics(0.1, 50) }), "x").at(-1)).toBe("97");
    const flat = await spectrumOf({ ...still, harmonics: harmonics(0.1, 2) });
    expect(ticks(flat, "y").length).toBeGreaterThanOrEqual(2);
  });
  it("leaves out what is below a millionth, says so, and keeps it in the table", async () => {
    const tracers = [{ ...still, harmonics: [...harmonics(0.4), { order: 17, moment_A_m2_per_kg: 1e-9 }] }];
    const figure = await predictionFigure({ ...head, tracers });
    expect(figure.svg).toContain("below a millionth of the largest harmonic, not drawn: 1");
    expect(marks(panelsOf(figure.svg)[1])[0]).toHaveLength(8);
    expect(figureCsv(figure)).toContain("17,1e-9");
  });
  it("has no spectrum where there are no harmonics", async () => {
    const { svg } = await predictionFigure({ ...head, tracers: [{ ...still, harmonics: [] }] });
    expect(panelsOf(svg)).toHaveLength(1);
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
  });
  it("keeps tracers of one name apart, and says when colours come round again", async () => {
    const twins = await predictionFigure({ ...head, tracers: [still, { ...moving, name: "still" }] });
    expect(marks(panelsOf(twins.svg)[1])).toHaveLength(2);
    expect(twins.data[0].unit).toBe("1: still; 2: still");
    const many = await predictionFigure({ ...head, tracers: Array.from({ length: 8 }, () => still) });
    expect(many.svg).toContain("colours come round again");
    expect(twins.svg).not.toContain("colours come round again");
  });
  it("carries its numbers to the last digit: curves first, harmonics after them", async () => {
    const figure = await predictionFigure({ ...head, tracers: [still, moving] });
    const [header, ...rows] = figureCsv(figure).trimEnd().split("\r\n");
    expect(header).toBe(
      "tracer [1: still; 2: moving],curve [1: static; 2: field rising; 3: field falling],field [T],response [1/T],harmonic [1],moment_per_iron [A.m2/kg]",
    );
    expect(rows).toHaveLength(4 * 41 + 16);
    expect(rows.slice(0, 41).map((row) => Number(row.split(",")[2]))).toEqual([...field_T]);
    expect(rows[41 * 2]).toBe(`2,2,${field_T[0]},${moving.forward!.response_per_T[0]},,`);
    expect(rows.at(-1)).toBe(`2,,,,15,${moving.harmonics[7].moment_A_m2_per_kg}`);
  });
  it("says what it is, and gives the same bytes for the same data", async () => {
    const { svg } = await predictionFigure({ ...head, tracers: [still, moving] });
    expect(svg).toContain("<desc>Point responses and odd harmonics of still, moving.</desc>");
    for (const words of [
      "Field of the drive, \u03bc\u2080H (mT)",
      "Moment per iron (A\u00b7m\u00b2/kg Fe)",
      "sine drive along z",
    ]) {
      expect(svg).toContain(words);
    }
    expect((await predictionFigure({ ...head, tracers: [still, moving] })).svg).toBe(svg);
  });
  it("refuses no tracer, and a response that does not fit its fields", async () => {
    await expect(predictionFigure({ ...head, tracers: [] })).rejects.toThrow("no tracer");
    const short = { ...moving, forward: { field_T, response_per_T: new Float64Array(3) } };
    await expect(predictionFigure({ ...head, tracers: [short] })).rejects.toThrow("41 values, one for each field");
  });
});
