import { describe, expect, it } from "vitest";
import { coarseNodes } from "./coarse-nodes.js";
import { xiPerTesla } from "./core.js";
import { langevin } from "./langevin.js";
import { relativeMagnetisation } from "./magnetisation.js";

const fields = Float64Array.from({ length: 60 }, (_, i) => 1e-4 * 1.15 ** i);

function worst(sizes: Parameters<typeof coarseNodes>[0], count = 24): number {
  const exact = relativeMagnetisation(fields, { sizes, saturation_A_per_m: 446e3, temperature_K: 300 });
  const { diameter_m, weight } = coarseNodes(sizes, { count });
  const gaps = Array.from(fields, (field, i) => {
    const sum = diameter_m.reduce((total, d, j) => total + weight[j] * langevin(xiPerTesla(d, 446e3, 300) * field), 0);
    return Math.abs(sum - exact[i]);
  });
  return Math.max(...gaps);
}

describe("coarseNodes", () => {
  it.each([
    [0.05, 1e-8],
    [0.2, 2e-8],
    [0.3, 5e-7],
    [0.5, 1e-4],
  ])("average a Langevin curve of log-sd %d within %d of saturation", (logSd, bound) => {
    expect(worst({ kind: "lognormal", weighting: "number", medianDiameter_m: 20e-9, logSd })).toBeLessThan(bound);
  });

  it("take a mixture by moment and a table as it is", () => {
    const populations = [
      { share: 3, medianDiameter_m: 10e-9, logSd: 0.2 },
      { share: 1, medianDiameter_m: 25e-9, logSd: 0.1 },
    ];
    expect(worst({ kind: "mixture", weighting: "volume", populations })).toBeLessThan(1e-6);
    expect(worst({ kind: "table", weighting: "volume", diameter_m: [1e-8, 2e-8], share: [1, 2] })).toBeLessThan(1e-14);
  });

  it("are one node for a single size", () => {
    const { diameter_m, weight } = coarseNodes({ kind: "single", diameter_m: 25e-9 });
    expect([diameter_m.length, weight[0]]).toEqual([1, 1]);
  });
});
