import { parseHTML } from "linkedom";
import { describe, expect, it } from "vitest";
import { gradientErrorFigure } from "./gradient-error.js";

const n = 33;
/** Grows as the square of the distance: 10 % at 10 mm. */
const slice = (scale = 1, plane: "xy" | "xz" | "yz" = "xy") => ({
  plane,
  at_m: 0,
  shape: [n, n] as const,
  across_m: [-0.016, 0.016] as const,
  up_m: [-0.016, 0.016] as const,
  values: Float64Array.from({ length: n * n }, (_, i) => {
    const [x, y] = [(i % n) - 16, Math.floor(i / n) - 16];
    return scale * 1e-3 * (x * x + y * y);
  }),
});
const head = { title: "Invented", subtitle: "relative to the centre" };
const words = "10 % (common practice)";

describe("gradientErrorFigure", () => {
  it("draws and labels the contour at 10 %, here a circle of 10 mm", async () => {
    const { svg, data } = await gradientErrorFigure({ ...head, slices: [slice()] });
    const panel = parseHTML(svg).document.querySelector("svg > svg > svg")!;
    const image = panel.querySelector("image")!;
    const [left, top, wide] = ["x", "y", "width"].map((name) => Number(image.getAttribute(name)));
    const points = [
      ...panel
        .querySelector('[aria-label="line"] path')!
        .getAttribute("d")!
        .matchAll(/(-?[\d.]+),(-?[\d.]+)/g),
    ];
    expect(points.length).toBeGreaterThan(60);
    for (const [, x, y] of points) {
      const r = Math.hypot(Number(x) - left - wide / 2, Number(y) - top - wide / 2) / (wide / n);
      expect(Math.abs(r - 10)).toBeLessThan(1 / 80 + 0.001); // h^2 / 8r of the interpolation, and digits as written
    }
    expect([...panel.querySelectorAll("text")].map((text) => text.textContent)).toContain(words);
    expect(data.find(({ name }) => name === "relative_error")!.values[0]).toBeCloseTo(0.512, 12);
    expect(svg).toContain("Size of the relative error (%)");
  });
  it("in small planes writes 10 % on the line and the whole name in the key", async () => {
    const slices = [slice(), slice(1, "xz"), slice(1, "yz")];
    const { svg } = await gradientErrorFigure({ ...head, slices });
    const all = [...parseHTML(svg).document.querySelectorAll("text")].map((text) => text.textContent);
    expect(all.filter((text) => text === "10 %")).toHaveLength(3);
    expect(all.filter((text) => text === words)).toHaveLength(1);
  });
  it("states the range of its colours, and says so where 10 % is not reached", async () => {
    const capped = await gradientErrorFigure({ ...head, slices: [slice()], cap: 0.2 });
    // x^2 + y^2 > 200 on the lattice from -16 to 16
    const above = slice().values.filter((value) => value > 0.2 * (1 + 1e-9)).length;
    expect(capped.svg).toContain(`colours end at 20 %; cells above it: ${above}`);
    const low = await gradientErrorFigure({ ...head, slices: [slice(0.1)] });
    expect(low.svg).toContain("below 10 % (common practice) everywhere");
    expect(low.svg).toContain("colours end at 30 %");
    expect(low.svg).not.toContain("cells above");
  });
  it.each([
    ["signed errors", { slices: [slice(-1)] }, "sizes of the relative error"],
    ["a cap of nothing", { slices: [slice()], cap: 0 }, "a cap above 0"],
    ["no plane", { slices: [] }, "0 planes"],
  ])("refuses %s", async (_, change, message) => {
    await expect(gradientErrorFigure({ ...head, ...change })).rejects.toThrow(message);
  });
});
