import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";

import { periodBasis, projectFrames, removedBaseline, removeFundamental } from "../../src/imaging/index.js";
import { langevinSlope } from "../../src/physics/index.js";

type Row = Readonly<Record<"row" | "value" | "closedForm", string>>;
const truth: Readonly<Record<string, Row>> = JSON.parse(readFileSync(new URL("./truth.json", import.meta.url), "utf8"));

const images: Readonly<Record<string, (y: number) => number>> = {
  y2: (y) => y * y,
  abs: Math.abs,
  exp: Math.exp,
  odd: (y) => y + y ** 3 - 2 * y ** 5,
  response: (y) => langevinSlope(12 * (y - 0.3)),
};

const phase = (j: number, n: number) => (2 * Math.PI * (j + 0.5)) / n;
/** Voltage over speed amplitude while the field-free point sweeps the image: u = ρ̂(cos θ) sin θ. */
const sweep = (image: (y: number) => number, n: number) =>
  Float64Array.from({ length: n }, (_, j) => image(Math.cos(phase(j, n))) * Math.sin(phase(j, n)));

describe("the baseline that a notch at the drive frequency takes (D3, D5, W21)", () => {
  it("has a row of truth for every image and an image for every row", () => {
    expect(Object.keys(truth)).toEqual(Object.keys(images));
  });
  // Gauss-Chebyshev with 20001 nodes is exact for polynomials; the corner of |y| costs 1/n² = 3e-9.
  it.each(Object.keys(images))("by quadrature: %s", (name) => {
    expect(Math.abs(removedBaseline(images[name]) - Number(truth[name].value))).toBeLessThan(
      name === "abs" ? 1e-8 : 1e-13,
    );
  });
  it("agrees with the printed W21 within its 1e-6", () => {
    const printed = { y2: 0.25, abs: 0.4244132, exp: 1.1303182 };
    for (const [name, value] of Object.entries(printed))
      expect(Math.abs(removedBaseline(images[name]) / value - 1)).toBeLessThan(1e-6);
  });
});

describe("the receive filter on a sampled sweep (D2)", () => {
  // 400 samples: exact up to degree 397; |y| leaves 3/n² of its corner.
  const n = 400;
  it.each(Object.keys(images))("subtracts that constant from the image and nothing else: %s", (name) => {
    const filtered = removeFundamental(sweep(images[name], n), n);
    const expected = Number(truth[name].value);
    const tolerance = name === "abs" ? 3e-5 : 1e-12;
    for (let j = 0; j < n; j++) {
      const image = filtered[j] / Math.sin(phase(j, n));
      // Near the turning points rounding is divided by the speed, sin θ down to 0.008.
      expect(Math.abs(images[name](Math.cos(phase(j, n))) - image - expected)).toBeLessThan(tolerance);
    }
  });

  it("harmonic n is the coefficient of U_{n−1}: the series gives the image back, and without its first term the filtered one", () => {
    const { sine } = periodBasis(n, 1, n / 2 - 1);
    const s = projectFrames(sweep(images.response, n), sine, n);
    for (const y of [-0.9, -0.2, 0.31, 0.7]) {
      const phi = Math.acos(y);
      const series = s.reduce((sum, value, i) => sum + (value * Math.sin((i + 1) * phi)) / Math.sin(phi), 0);
      expect(series).toBeCloseTo(images.response(y), 10);
      expect(series - s[0]).toBeCloseTo(images.response(y) - Number(truth.response.value), 10);
    }
  });
});
