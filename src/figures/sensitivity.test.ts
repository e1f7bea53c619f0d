import { parseHTML } from "linkedom";
import { describe, expect, it } from "vitest";
import { figureCsv } from "./figure.js";
import { sensitivityFigure } from "./sensitivity.js";

const n = 41;
const centre_T_per_A = 85e-6;
/** Falls with the square of z: 10 % at 20 mm. */
const at = (z_m: number) => centre_T_per_A * (1 - 0.1 * (z_m / 0.02) ** 2);
const z = (i: number) => -0.04 + 0.002 * i;
const slice = {
  plane: "xz" as const,
  at_m: 0,
  shape: [n, n] as const,
  across_m: [-0.04, 0.04] as const,
  up_m: [-0.04, 0.04] as const,
  values: Float64Array.from({ length: n * n }, (_, i) => at(z(Math.floor(i / n)))),
};
const position_m = Float64Array.from({ length: n }, (_, i) => z(i));
const profile = { axis: "z" as const, position_m, sensitivity_T_per_A: position_m.map(at) };
const head = { title: "Invented", reference_T_per_A: centre_T_per_A };

const paths = (panel: Element) =>
  [...panel.querySelectorAll('[aria-label="line"] path')].map((path) =>
    [...path.getAttribute("d")!.matchAll(/(-?[\d.]+),(-?[\d.]+)/g)].map(([, x, y]) => [Number(x), Number(y)]),
  );
type Element = ReturnType<typeof panelsOf>[number];
const panelsOf = (svg: string) => [...parseHTML(svg).document.querySelectorAll("svg svg")];

describe("sensitivityFigure", () => {
  it("sets the contour where the sensitivity is 10 % below the centre, in uT/A", async () => {
    const { svg } = await sensitivityFigure({ ...head, slices: [slice] });
    const panel = panelsOf(svg).find((each) => each.querySelector("image") !== null && !each.querySelector("svg"))!;
    const image = panel.querySelector("image")!;
    const [top, tall] = ["y", "height"].map((name) => Number(image.getAttribute(name)));
    const up_mm = paths(panel).flatMap((points) => points.map(([, y]) => ((top + tall / 2 - y) / tall) * 82));
    for (const each of up_mm) expect(Math.abs(each)).toBeCloseTo(20, 2); // a row lies there: no interpolation
    expect(new Set(up_mm.map(Math.sign))).toEqual(new Set([1, -1]));
    for (const words of ["|B/I| (\u00b5T/A)", "\u221210 %", "centre: 85 \u00b5T/A"]) expect(svg).toContain(words);
  });
  it("says where its colours begin when that is not zero", async () => {
    // 1 - 0.1 * 4 = 0.6 of 85 is 51 uT/A
    const { svg } = await sensitivityFigure({ ...head, slices: [slice] });
    expect(svg).toContain("colours begin at 50 \u00b5T/A, not at 0");
    const deep = { ...slice, values: slice.values.map((v, i) => (i === 0 ? 0 : v)) };
    expect((await sensitivityFigure({ ...head, slices: [deep] })).svg).not.toContain("begin");
    const flat = { ...slice, values: new Float64Array(n * n).fill(centre_T_per_A) };
    expect((await sensitivityFigure({ ...head, slices: [flat] })).svg).toContain("is not reached");
    const round = { ...slice, values: new Float64Array(n * n).fill(1e-4) };
    const { svg: drawn } = await sensitivityFigure({ ...head, slices: [round] });
    expect(drawn.replaceAll(/base64,[^"]*/g, "").match(/NaN|undefined|Infinity/)).toBeNull();
  });
  it("draws a profile with its sign, its centre and 10 % below it, towards zero", async () => {
    for (const sign of [1, -1]) {
      const own = { ...profile, sensitivity_T_per_A: profile.sensitivity_T_per_A.map((v) => sign * v) };
      const { svg } = await sensitivityFigure({ ...head, reference_T_per_A: sign * centre_T_per_A, profile: own });
      const panel = panelsOf(svg).at(-1)!;
      const rules = [...panel.querySelectorAll('[aria-label="rule"]')].map((g) =>
        Number(g.querySelector("line")!.getAttribute("y1")),
      );
      const [zero, whole, tenth] = rules;
      expect((zero - tenth) / (zero - whole)).toBeCloseTo(0.9, 6);
      const [points] = paths(panel);
      const middle = points[20][1];
      expect(middle).toBeCloseTo(whole, 2);
      // The curve meets the lower rule at 20 mm, the 31st of 41 points.
      expect(points[30][1]).toBeCloseTo(tenth, 2);
    }
  });
  it("puts the cells and then the profile in one table", async () => {
    const figure = await sensitivityFigure({ ...head, slices: [slice], profile });
    const [view, x, y, , sensitivity] = figure.data;
    expect(view.values).toHaveLength(n * n + n);
    expect([view.values[n * n], x.values[n * n], y.values[0]]).toEqual([-1, Number.NaN, 0]);
    expect(sensitivity.values[n * n + 20]).toBe(profile.sensitivity_T_per_A[20]);
    expect(figureCsv(figure)).toContain("sensitivity [T/A]");
    expect((await sensitivityFigure({ ...head, profile })).data[0].values).toHaveLength(n);
  });
  it.each([
    ["nothing to draw", {}, "0 planes"],
    ["no value at the centre", { profile, reference_T_per_A: 0 }, "the sensitivity at the centre"],
    ["signed planes", { slices: [{ ...slice, values: slice.values.map((v) => -v) }] }, "shown by a profile"],
    ["a profile of unequal lengths", { profile: { ...profile, position_m: position_m.subarray(1) } }, "40 values"],
    ["positions that do not ascend", { profile: { ...profile, position_m: position_m.toReversed() } }, "do not ascend"],
  ])("refuses %s", async (_, change, words) => {
    await expect(sensitivityFigure({ ...head, ...change })).rejects.toThrow(words);
  });
});
