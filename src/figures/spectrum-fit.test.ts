import { parseHTML } from "linkedom";
import { describe, expect, it } from "vitest";
import { figureCsv } from "./figure.js";
import { type SpectrumFitFigureData, spectrumFitFigure } from "./spectrum-fit.js";

const harmonic = Int32Array.from({ length: 8 }, (_, i) => 2 * i + 1);
const fitted = Float64Array.from(harmonic, (k) => 50 * Math.exp(-0.3 * k));
const sigma = fitted.map((a) => 0.01 * a);
const measured = fitted.map((a, i) => a + (i - 3) * sigma[i]);
const data: SpectrumFitFigureData = {
  title: "Invented",
  harmonic,
  measured,
  sigma,
  fitted,
  unit: "A.m2/kg",
  basis: "per mass of iron",
};
const phases = {
  measuredPhase_rad: Float64Array.from(harmonic, (k) => -0.3 * k),
  fittedPhase_rad: Float64Array.from(harmonic, (k) => -0.3 * k + 2 * Math.PI),
};

const panelsOf = (svg: string) => [...parseHTML(svg).document.querySelectorAll("svg > svg")].slice(1);
type Panel = ReturnType<typeof panelsOf>[number];

const circles = (panel: Panel) =>
  [...panel.querySelectorAll('[aria-label="dot"]')[0].querySelectorAll("circle, path")].map((mark) =>
    mark.hasAttribute("cx")
      ? [Number(mark.getAttribute("cx")), Number(mark.getAttribute("cy"))]
      : (mark.getAttribute("transform")!.match(/-?[\d.]+/g) ?? []).map(Number),
  );

/** Largest distance of the points (u, v) from the straight line through the first and the last, in units of v. */
function bend(u: readonly number[], v: readonly number[]): number {
  const slope = (v.at(-1)! - v[0]) / (u.at(-1)! - u[0]);
  return Math.max(...u.map((each, i) => Math.abs(v[i] - v[0] - slope * (each - u[0]))));
}

describe("spectrumFitFigure", () => {
  it("puts amplitudes on a logarithmic axis over the harmonic, and residuals in sd below", async () => {
    const [amplitudes, residuals] = panelsOf((await spectrumFitFigure(data)).svg).map(circles);
    const k = [...harmonic];
    // 1e-9 of a picture element: the numbers are written in full
    const across = amplitudes.map(([x]) => x);
    const up = amplitudes.map(([, y]) => y);
    expect(bend(k, across)).toBeLessThan(1e-9);
    expect(bend([...measured].map(Math.log), up)).toBeLessThan(1e-9);
    const sds = residuals.map(([, y]) => y);
    expect(bend([-3, -2, -1, 0, 1, 2, 3, 4], sds)).toBeLessThan(1e-9);
    expect(sds[0]).toBeGreaterThan(sds[7]); // up is more
  });
  it("has a panel of phases only where they are given, and joins phases across half a turn", async () => {
    const without = panelsOf((await spectrumFitFigure(data)).svg);
    const panels = panelsOf((await spectrumFitFigure({ ...data, ...phases })).svg);
    expect([without.length, panels.length]).toEqual([2, 3]);
    expect(panels[1].textContent).toContain("Phase (\u00b0)");
    const places = circles(panels[1]).map(([, y]) => y);
    // -0.3 k rad runs through -180 degrees at k = 10.5 and must stay straight; the model is the same modulo a turn
    expect(bend([...harmonic], places)).toBeLessThan(1e-9);
    const crosses = [...panels[1].querySelectorAll('[aria-label="dot"]')[1].querySelectorAll("path")].map((mark) =>
      Number(mark.getAttribute("transform")!.match(/,([\d.]+)\)/)![1]),
    );
    for (const [i, y] of crosses.entries()) expect(y).toBeCloseTo(places[i], 6);
  });
  it("keeps harmonics of opposite sign half a turn apart", async () => {
    const flip = Float64Array.from(harmonic, (_, i) => (i % 2 === 0 ? 0 : -Math.PI) + 0.02 * (i - 3));
    const { svg } = await spectrumFitFigure({ ...data, measuredPhase_rad: flip, fittedPhase_rad: flip });
    const places = circles(panelsOf(svg)[1]).map(([, y]) => y);
    const odd = places.filter((_, i) => i % 2 === 1);
    const even = places.filter((_, i) => i % 2 === 0);
    // Both kinds lie on both sides: of half a turn the one, of 0 the other.
    expect(bend([1, 3, 5, 7], odd)).toBeLessThan(1e-9);
    expect(bend([0, 2, 4, 6], even)).toBeLessThan(1e-9);
  });
  it("gives residuals in % of the measured amplitude without sigma, and says so", async () => {
    const figure = await spectrumFitFigure({ ...data, sigma: undefined });
    expect(figure.svg).toContain("Residual (%)");
    expect(figure.svg).toContain("residuals in % of the measured amplitude");
    const last = Array.from(figure.data.at(-1)!.values);
    expect(last[7]).toBeCloseTo(4 / 1.04, 12);
    expect(panelsOf(figure.svg)[0].querySelectorAll('[aria-label="link"] path')).toHaveLength(0);
  });
  it("counts what a logarithmic axis cannot show", async () => {
    const odd = measured.map((m, i) => (i === 2 ? -m : m));
    const wide = sigma.map((s, i) => (i === 7 ? measured[7] * 2 : s));
    const small = fitted.map((f, i) => (i === 4 ? 0 : f));
    const { svg } = await spectrumFitFigure({ ...data, measured: odd, sigma: wide, fitted: small });
    for (const words of [
      "measured but not above 0, not drawn: 1",
      "bars cut at the lower edge: 1",
      "fit below 1 % of the smallest measured, not drawn: 1",
    ]) {
      expect(svg).toContain(words);
    }
    expect(circles(panelsOf(svg)[0])).toHaveLength(7);
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
  });
  it("draws lines through odd and through even harmonics apart", async () => {
    const all = Int32Array.from({ length: 9 }, (_, i) => i + 1);
    const values = Float64Array.from(all, (k) => (k % 2 === 1 ? 1 : 0.01) / k);
    const { svg } = await spectrumFitFigure({
      ...data,
      harmonic: all,
      measured: values,
      fitted: values,
      sigma: undefined,
    });
    expect(panelsOf(svg)[0].querySelectorAll('[aria-label="line"] path')).toHaveLength(2);
  });
  it("says unit, basis and what it shows; arbitrary units where there is none", async () => {
    const { svg } = await spectrumFitFigure({ ...data, ...phases });
    for (const words of [
      "Amplitude (A\u00b7m\u00b2/kg)",
      "per mass of iron",
      "Harmonic of the drive",
      "Residual / sd",
    ]) {
      expect(svg).toContain(words);
    }
    expect(svg).toContain("<desc>Amplitudes of 8 harmonics, measured and fitted; below, phases and the residuals");
    expect((await spectrumFitFigure({ ...data, unit: "1" })).svg).toContain("Amplitude (arbitrary units)");
  });
  it("leaves room for the numbers of small amplitudes beside the title of the axis", async () => {
    const tiny = (values: Float64Array) => values.map((value) => value * 1e-13);
    const { svg } = await spectrumFitFigure({
      ...data,
      measured: tiny(measured),
      sigma: tiny(sigma),
      fitted: tiny(fitted),
    });
    const [panel] = panelsOf(svg);
    const left = Number(panel.querySelector('[aria-label="y-grid"] line')!.getAttribute("x1"));
    const longest = Math.max(
      ...[...panel.querySelectorAll('[aria-label="y-axis tick label"] text')].map((text) => text.textContent!.length),
    );
    // 9 px from the axis to the number, 7.3 px a letter, 24 px for the title that is turned
    expect(left - 9 - 7.3 * longest).toBeGreaterThan(24);
  });
  it("carries its numbers in the order they came in, and gives the same bytes for the same data", async () => {
    const figure = await spectrumFitFigure({ ...data, ...phases });
    const [header, first, ...rest] = figureCsv(figure).trimEnd().split("\r\n");
    expect(header).toBe(
      "harmonic [1],measured [A.m2/kg],sigma [A.m2/kg],fitted [A.m2/kg],measured_phase [rad],fitted_phase [rad],residual [1]",
    );
    expect(first.split(",").slice(0, 4).map(Number)).toEqual([1, measured[0], sigma[0], fitted[0]]);
    expect(rest).toHaveLength(7);
    expect((await spectrumFitFigure({ ...data, ...phases })).svg).toBe(figure.svg);
  });
  it.each([
    ["a value too few", { fitted: new Float64Array(3) }, "8 values, one per harmonic"],
    ["phases of one side", { measuredPhase_rad: phases.measuredPhase_rad }, "or of neither"],
    ["nothing above 0", { measured: new Float64Array(8) }, "no amplitude above 0"],
  ])("refuses %s", async (_, change, words) => {
    await expect(spectrumFitFigure({ ...data, ...change })).rejects.toThrow(words);
  });
});
