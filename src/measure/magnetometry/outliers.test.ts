import { describe, expect, it } from "vitest";
import { leastSquares, stream } from "../../numerics/index.js";
import { findOutliers, outlierAdvisories, robustScatter } from "./outliers.js";

const x = Float64Array.from({ length: 30 }, (_, i) => i / 10);
const names = ["offset", "slope"];

function lineFit(y: Float64Array, rows: readonly number[] = [...y.keys()]) {
  const at = rows.map((i) => x[i]);
  return leastSquares(
    { model: (p) => at.map((t) => p[0] + p[1] * t), observed: rows.map((i) => y[i]), sigma: 0.1 },
    [0, 0],
    { names },
  );
}

const noisy = (seed: number) => {
  const source = stream(seed);
  return x.map((t) => 1 + 2 * t + 0.1 * source.normal());
};

describe("outliers", () => {
  it("names the row that is off, and how far leaving it out would move a parameter", () => {
    const y = noisy(1);
    y[28] += 1;
    const fit = lineFit(y);
    const { normalisedResiduals: residuals, weightedJacobian: jacobian, covariance } = fit;
    const found = findOutliers(residuals, { jacobian, covariance, names });
    expect(found.map(({ row }) => row)).toEqual([28]);
    const [{ influence, parameter }] = found;
    const without = lineFit(
      y,
      [...y.keys()].filter((i) => i !== 28),
    );
    const j = names.indexOf(parameter ?? "");
    const moved = Math.abs(without.parameters[j] - fit.parameters[j]) / fit.standardErrors[j];
    // a straight line: the first-order formula is exact
    expect(influence).toBeCloseTo(moved, 6);
  });
  it("is all but silent for honest noise: 0.2 % of the rows of short curves", () => {
    let count = 0;
    for (let seed = 0; seed < 100; seed++) {
      const { normalisedResiduals: residuals, weightedJacobian: jacobian, covariance } = lineFit(noisy(100 + seed));
      count += findOutliers(residuals, { jacobian, covariance, names }).length;
    }
    // The median of 30 residuals is as good as 11 normal ones (efficiency 37 %): P(|t_11| > 4) = 0.0021, 6 of 3000
    // expected; more than 15 has a Poisson probability of 0.0005.
    expect(count).toBeLessThanOrEqual(15);
  });
  it("names rows one by one while they are few, and together where they are many", () => {
    const rowName = (row: number) => `row ${row + 1}`;
    const outlier = (row: number) => ({ row, robustResidual: 5 + row, influence: 0.5, reason: "residual" as const });
    const few = outlierAdvisories([outlier(3)], { rows: 40, rowName });
    expect(few).toHaveLength(1);
    expect(few[0].message).toMatch(/^row 4 lies 8\.0 robust .* it was kept$/);
    const many = outlierAdvisories([1, 2, 3, 4, 5, 6].map(outlier), { rows: 40, rowName });
    expect(many).toHaveLength(1);
    expect(many[0].message).toMatch(/^6 of 40 rows/);
  });
  it("has the scatter of the bulk whatever a few do", () => {
    const values = stream(5).fillNormal(new Float64Array(10_000));
    values.fill(1e6, 0, 100);
    expect(robustScatter(values)).toBeCloseTo(1, 1);
    expect(robustScatter(new Float64Array(0))).toBe(0);
  });
});
