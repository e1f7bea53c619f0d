import { describe, expect, it } from "vitest";
import { rankTracers } from "./rank-tracers.js";

const width = (tracer: string, width_T: number | null, standardUncertainty_T: number | null = null) => ({
  tracer,
  width_T,
  standardUncertainty_T,
  why: "lags too far",
});

describe("rankTracers", () => {
  it("orders by width and tells apart by the uncertainty of both", () => {
    const ranking = rankTracers([width("B", 5e-3, 0.3e-3), width("A", 4e-3, 0.4e-3), width("C", 5.2e-3, 0.3e-3)]);
    expect(ranking.map(({ tracer, rank }) => [tracer, rank])).toEqual([
      ["A", 1],
      ["B", 2],
      ["C", 3],
    ]);
    expect(ranking[1].comparison).toBe("1.00 mT wider than A, 2.0 standard uncertainties: told apart");
    expect(ranking[2].comparison).toMatch(/0\.200 mT wider than B, 0\.47 standard uncertainties: not told apart/);
  });

  it("does not rank what has no width, and does not pretend to know an uncertainty", () => {
    const ranking = rankTracers([width("A", null), width("C", 5e-3), width("B", 4e-3, 1e-4)]);
    expect(ranking.map(({ rank }) => rank)).toEqual([1, 2, null]);
    expect(ranking[1].comparison).toMatch(/not known/);
    expect(ranking[2].comparison).toBe("not ranked: lags too far");
  });
});
