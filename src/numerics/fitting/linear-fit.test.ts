import { describe, expect, it } from "vitest";
import { isKnownError } from "../../errors.js";
import { studentTQuantile } from "../special/student-t.js";
import { fiellerInterval, predictInverse } from "./inverse-prediction.js";
import { fitLine } from "./linear-fit.js";

const x = [0, 2, 4, 6, 8, 10, 12];
const y = [2.1, 5, 9, 12.6, 17.3, 21, 24.7];

describe("weighted line", () => {
  it("reproduces a line through exact data and ignores a point of huge sigma", () => {
    const line = fitLine([0, 1, 2, 3], [1, 3, 5, 100], { sigma: [0.1, 0.1, 0.1, 1e9] });
    expect(line.slope).toBeCloseTo(2, 10);
    expect(line.intercept).toBeCloseTo(1, 10);
  });
  it("counts a point of half the sigma as four points", () => {
    const once = fitLine([0, 1, 2], [0.1, 0.9, 2.2], { sigma: [0.1, 0.1, 0.05] });
    const four = fitLine([0, 1, 2, 2, 2, 2], [0.1, 0.9, 2.2, 2.2, 2.2, 2.2], { sigma: Array(6).fill(0.1) });
    expect(once.slope).toBeCloseTo(four.slope, 13);
    for (let k = 0; k < 4; k++) expect(once.covariance[k] / four.covariance[k]).toBeCloseTo(1, 12);
  });
  it("asks for the sigma of a new reading, and combines it", () => {
    const line = fitLine(x, y, { sigma: x.map(() => 0.432848) });
    expect(() => predictInverse(line, 13.5)).toThrow(/standard deviation of one reading/);
    const weighted = predictInverse(line, 13.5, { sigma: 0.432848, replicates: 4 });
    expect(weighted.standardUncertainty).toBeCloseTo(0.140613, 5);
  });
});

describe("Fieller's interval", () => {
  const line = fitLine(x, y);
  const t = studentTQuantile(0.975, line.degreesOfFreedom);
  it("satisfies its defining equality at both ends", () => {
    for (const end of fiellerInterval(line, 13.5, { t })) {
      const gap = line.intercept + line.slope * end - 13.5;
      const variance = line.residualScale ** 2 * (1 + 1 / 7 + (end - line.xMean) ** 2 / line.sxx);
      expect(gap ** 2 / (t * t * variance)).toBeCloseTo(1, 11);
    }
  });
  it("is close to the first-order one for a sharp slope", () => {
    const { x: x0, standardUncertainty } = predictInverse(line, 13.5);
    const [low, high] = fiellerInterval(line, 13.5, { t });
    expect((high - low) / (2 * t * standardUncertainty)).toBeCloseTo(1, 2);
    expect((high + low) / 2).toBeCloseTo(x0, 2);
  });
  it("refuses a slope that may be zero", () => {
    const flat = fitLine([0, 1, 2, 3], [1, 1.2, 0.9, 1.1]);
    try {
      fiellerInterval(flat, 1, { t: 4.3 });
      expect.unreachable();
    } catch (error) {
      expect(isKnownError(error, "NotIdentifiable")).toBe(true);
    }
  });
});

describe("refusals", () => {
  it.each<[string, () => unknown, RegExp]>([
    ["two points", () => fitLine([0, 1], [0, 1]), /2 points/],
    ["one x", () => fitLine([3, 3, 3], [0, 1, 2]), /the same x/],
    ["unequal lengths", () => fitLine([0, 1, 2], [0, 1]), /y: |at y/],
    ["replicates of 0", () => predictInverse(fitLine(x, y), 3, { replicates: 0 }), /whole number from 1/],
  ])("%s", (_, act, message) => {
    expect(act).toThrow(message);
  });
});
