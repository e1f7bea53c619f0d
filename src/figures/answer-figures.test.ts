import { parseHTML } from "linkedom";
import { describe, expect, it } from "vitest";
import { calibrationLine, type IronMassAnswer } from "../measure/index.js";
import { budgetFigure, largestTerm } from "./budget.js";
import { calibrationFigure } from "./calibration.js";
import { discrepancyFigure } from "./discrepancy.js";
import { figureCsv } from "./figure.js";
import { massesFigure } from "./masses.js";

function answer(region: string, value_kg: number, u: number): IronMassAnswer {
  const line = { type: "B" as const, degreesOfFreedom: Number.POSITIVE_INFINITY, note: "", isPrecision: false };
  return {
    question: "iron-mass",
    region,
    scan: "s",
    value_kg,
    standardUncertainty_kg: u,
    interval95_kg: [value_kg - 2 * u, value_kg + 2 * u],
    precisionOnly: { standardUncertainty_kg: u / 4, interval95_kg: [value_kg - u / 2, value_kg + u / 2] },
    effectiveDegreesOfFreedom: 30,
    criticalLevel_kg: 1.6e-9,
    detectionLimit_kg: 3.2e-9,
    decision: value_kg > 1.6e-9 ? "detected" : "not detected",
    budget: [
      { ...line, name: "noise", standardUncertainty: 0.6 * u },
      { ...line, name: "stock", standardUncertainty: 0.8 * u },
    ],
    advisories: [],
  };
}

const answers = [answer("A", 12e-9, 1e-9), answer("B", 6e-9, 0.5e-9), answer("empty", -0.5e-9, 0.4e-9)];

/** Centres of the filled dots, in order. */
const dots = (svg: string) =>
  [...parseHTML(svg).document.querySelectorAll("circle")].map((c) => [
    Number(c.getAttribute("cx")),
    Number(c.getAttribute("cy")),
  ]);

describe("massesFigure", () => {
  it("sets values on one linear axis while all can be seen: equal differences are equal lengths", async () => {
    const { svg } = await massesFigure({ title: "t", answers });
    const [a, b, c] = dots(svg).map(([x]) => x);
    expect((a - b) / (b - c)).toBeCloseTo(6 / 6.5, 6); // rounding as written
    expect(svg).not.toContain("logarithmic");
  });
  it("turns logarithmic when a mass dwarfs the critical levels, and says so", async () => {
    const { svg } = await massesFigure({ title: "t", answers: [...answers, answer("liver", 900e-9, 20e-9)] });
    expect(svg).toContain("logarithmic beyond \u00b11.6");
    const x = dots(svg).map(([at]) => at);
    // symmetric logarithm: sign(m) log(1 + |m|/c)
    const place = (m: number) => Math.sign(m) * Math.log1p(Math.abs(m) / 1.6);
    expect((x[3] - x[0]) / (x[0] - x[2])).toBeCloseTo((place(900) - place(12)) / (place(12) - place(-0.5)), 6);
  });
  it("marks what was put in only where it is given", async () => {
    const without = await massesFigure({ title: "t", answers });
    const truth = [{ region: "A", iron_kg: 12e-9 }];
    const given = await massesFigure({ title: "t", answers, truth });
    expect(without.svg).not.toContain("put in");
    expect(given.svg).toContain("put in (known because invented)");
    expect(given.data.at(-1)!.name).toBe("put_in");
  });
  it("draws a value whose uncertainty is not known without an interval", async () => {
    const unknown = { ...answer("A", 12e-9, Number.NaN), criticalLevel_kg: Number.NaN, detectionLimit_kg: Number.NaN };
    const { svg } = await massesFigure({ title: "t", answers: [unknown, answers[1]] });
    expect(svg.match(/NaN/)).toBeNull();
    expect(dots(svg)).toHaveLength(2);
  });
});

describe("budgetFigure", () => {
  it("draws contributions in proportion, the largest apart", async () => {
    const { svg } = await budgetFigure({ title: "t", answers });
    const bars = [...parseHTML(svg).document.querySelectorAll("rect")].filter(
      (rect) => Number(rect.getAttribute("height")) < 20,
    );
    const [noise, stock] = bars.map((bar) => Number(bar.getAttribute("width")));
    expect(noise / stock).toBeCloseTo(0.75, 6);
    expect(bars[0].getAttribute("fill")).not.toBe(bars[1].getAttribute("fill"));
    expect(largestTerm(answers[0])!.name).toBe("stock");
  });
  it("has no largest term where nothing is known", () => {
    expect(largestTerm({ budget: [] })).toBeUndefined();
  });
});

describe("calibrationFigure", () => {
  it("puts each vial and its residual over its known iron", async () => {
    const points = [2, 5, 10, 20].map((ug, i) => ({
      label: `vial ${i + 1}`,
      reading_kg: (1.1 * ug + [0.1, -0.1, 0.05, 0][i]) * 1e-9,
      readingUncertainty_kg: 0.1e-9,
      iron_kg: ug * 1e-9,
      ironUncertainty_kg: 0.01e-9 * ug,
    }));
    const figure = await calibrationFigure({
      title: "t",
      line: calibrationLine(points, { stockRelativeUncertainty: 0.02 }),
    });
    const places = dots(figure.svg);
    expect(places).toHaveLength(8);
    expect(places.slice(4).map(([x]) => x)).toEqual(places.slice(0, 4).map(([x]) => x));
    expect((places[3][0] - places[2][0]) / (places[1][0] - places[0][0])).toBeCloseTo(10 / 3, 6);
    expect(figureCsv(figure).split("\r\n")).toHaveLength(6);
    expect(figure.svg.match(/NaN|undefined|Infinity/)).toBeNull();
  });
});

describe("discrepancyFigure", () => {
  it("is straight for a power law: both axes are logarithmic", async () => {
    const trials = [1, 0.1, 0.01].map((relativeWeight) => ({
      relativeWeight,
      residual2: 1e-11 * relativeWeight ** 0.5,
    }));
    const figure = await discrepancyFigure({ title: "t", choice: { relativeWeight: 0.03, target2: 1.7e-12, trials } });
    const [a, b, c] = dots(figure.svg);
    expect((c[1] - b[1]) / (c[0] - b[0])).toBeCloseTo((b[1] - a[1]) / (b[0] - a[0]), 9);
    expect(figure.svg).toContain("chosen 0.03");
    expect(figure.svg.match(/NaN|undefined|Infinity/)).toBeNull();
  });
});
