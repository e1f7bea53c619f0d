import { describe, expect, it } from "vitest";
import { isKnownError } from "../../errors.js";
import { stream } from "../../numerics/index.js";
import { drivePhase } from "./line-raster.js";
import { periodBasis, projectFrames, removeFundamental } from "./period-harmonics.js";

const n = 32;
const wave = (term: (theta: number) => number) => Float64Array.from({ length: n }, (_, j) => term(drivePhase(j, n)));
const worst = (a: Float64Array, b: Float64Array) =>
  a.reduce((max, value, i) => Math.max(max, Math.abs(value - b[i])), 0);

describe("harmonics of a period", () => {
  const basis = periodBasis(n, 1, n / 2 - 1);
  const kept = n / 2 - 1;
  const rows = [basis.sine, basis.cosine];

  it("are orthogonal over the samples, sine to cosine too, and hold no mean", () => {
    for (const [s, first] of rows.entries())
      for (const [t, second] of rows.entries())
        for (let g = 0; g < kept; g++)
          for (let h = 0; h < kept; h++) {
            let inner = 0;
            for (let j = 0; j < n; j++) inner += first[g * n + j] * second[h * n + j];
            expect(Math.abs(inner - (s === t && g === h ? 2 / n : 0))).toBeLessThan(1e-15);
          }
    for (const row of rows)
      for (let h = 0; h < kept; h++)
        expect(Math.abs(row.subarray(h * n, (h + 1) * n).reduce((a, b) => a + b, 0))).toBeLessThan(1e-14);
  });

  it("read the amplitude of their own wave and nothing of the others", () => {
    const frame = wave((theta) => 3 * Math.sin(2 * theta) - 0.5 * Math.sin(7 * theta) + 4 * Math.cos(2 * theta) + 9);
    const sine = projectFrames(frame, basis.sine, n);
    const cosine = projectFrames(frame, basis.cosine, n);
    sine.forEach((value, h) => {
      expect(value).toBeCloseTo(h === 1 ? 3 : h === 6 ? -0.5 : 0, 13);
    });
    cosine.forEach((value, h) => {
      expect(value).toBeCloseTo(h === 1 ? 4 : 0, 13);
    });
  });

  it("frames stay apart", () => {
    const two = Float64Array.of(...wave((t) => Math.sin(2 * t)), ...wave((t) => 5 * Math.sin(3 * t)));
    const { sine } = periodBasis(n, 2, 3);
    [1, 0, 0, 5].forEach((expected, i) => {
      expect(projectFrames(two, sine, n)[i]).toBeCloseTo(expected, 13);
    });
  });

  it("white noise of sd 1 becomes sd √(2/N) per harmonic (χ² of 6000 numbers, two-sided 1e-4)", () => {
    const frames = stream(31).fillNormal(new Float64Array(400 * n));
    const harmonics = projectFrames(frames, basis.sine, n);
    const scaled = harmonics.reduce((sum, value) => sum + (value * value * n) / 2, 0) / harmonics.length;
    expect(Math.abs(scaled - 1)).toBeLessThan(3.9 * Math.sqrt(2 / harmonics.length));
  });
});

describe("the receive filter", () => {
  it("takes the mean and both phases of the fundamental", () => {
    const frame = wave((t) => 2 + 5 * Math.sin(t) - 3 * Math.cos(t));
    expect(worst(removeFundamental(frame, n), new Float64Array(n))).toBeLessThan(1e-14);
  });
  it("leaves every other harmonic as it was", () => {
    const others = (t: number) => Math.sin(2 * t + 0.3) + 0.2 * Math.cos(9 * t) + 0.1 * Math.sin((n / 2) * t);
    const filtered = removeFundamental(
      wave((t) => others(t) + Math.sin(t + 1)),
      n,
    );
    expect(worst(filtered, wave(others))).toBeLessThan(1e-14);
  });
  it("does nothing the second time, and treats each frame by itself", () => {
    const frames = stream(7).fillNormal(new Float64Array(3 * n));
    const alone = removeFundamental(frames.slice(n, 2 * n), n);
    const once = removeFundamental(frames, n).slice();
    expect(worst(once.subarray(n, 2 * n), alone)).toBe(0);
    expect(worst(removeFundamental(frames, n), once)).toBeLessThan(1e-14);
  });
});

describe("refusals", () => {
  it.each<[string, () => unknown, "InvalidValue" | "ShapeMismatch"]>([
    ["harmonic 0", () => periodBasis(n, 0, 3), "InvalidValue"],
    ["the last before the first", () => periodBasis(n, 4, 3), "InvalidValue"],
    ["harmonics at or above half the samples", () => periodBasis(n, 2, n / 2), "InvalidValue"],
    ["part of a frame", () => projectFrames(new Float64Array(n + 1), periodBasis(n, 2, 3).sine, n), "ShapeMismatch"],
  ])("%s", (_, act, code) => {
    let caught: unknown;
    try {
      act();
    } catch (error) {
      caught = error;
    }
    expect(isKnownError(caught, code)).toBe(true);
  });
});
