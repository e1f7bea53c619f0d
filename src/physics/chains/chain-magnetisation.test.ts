import { describe, expect, it } from "vitest";
import type { ParticleEnsemble } from "../particle/magnetisation.js";
import { ensembleNodes, relativeMagnetisation } from "../particle/magnetisation.js";
import { chainHistory, chainMagnetisation } from "./chain-magnetisation.js";
import { followBranch } from "./mean-field.js";
import { chainWidth_T } from "./mean-field-width.js";

const ensemble: ParticleEnsemble = {
  sizes: { kind: "lognormal", weighting: "number", medianDiameter_m: 16e-9, logSd: 0.25 },
  saturation_A_per_m: 446e3,
  temperature_K: 300,
};
const nodes = ensembleNodes(ensemble, 3);
const meanK = nodes.xiPerTesla.reduce((sum, k, j) => sum + k * nodes.weight[j], 0);
const field_T = Float64Array.from({ length: 41 }, (_, i) => (i - 20) * 2e-3);
const reversed_T = field_T.slice().reverse();

describe("chains of several sizes", () => {
  it("are the independent ensemble without coupling", () => {
    const { magnetisation } = chainMagnetisation(field_T, nodes, { kappa: 0 });
    const plain = relativeMagnetisation(field_T, ensemble);
    for (let i = 0; i < field_T.length; i++) expect(magnetisation[i]).toBeCloseTo(plain[i], 13);
  });

  it("have slope mean k / (3 - kappa) at zero field, whatever the distribution", () => {
    for (const kappa of [0, 1, 2.5]) {
      const { slope_per_T } = chainMagnetisation(Float64Array.of(0), nodes, { kappa });
      expect((slope_per_T[0] * (3 - kappa)) / meanK).toBeCloseTo(1, 12);
    }
  });

  it("satisfy their own equation on every branch", () => {
    for (const kappa of [2, 5])
      for (const branch of ["ascending", "descending"] as const) {
        const { magnetisation } = chainMagnetisation(field_T, nodes, { kappa, branch });
        const local_T = field_T.map((field, i) => field + (kappa / meanK) * magnetisation[i]);
        const expected = relativeMagnetisation(local_T, ensemble);
        for (let i = 0; i < field_T.length; i++) expect(magnetisation[i]).toBeCloseTo(expected[i], 12);
      }
  });

  it("give the same for one size as the single-size chain", () => {
    const one = { xiPerTesla: Float64Array.of(800), weight: Float64Array.of(7) };
    const { magnetisation } = chainMagnetisation(field_T, one, { kappa: 6, branch: "ascending" });
    const single = followBranch(
      field_T.map((field) => 800 * field),
      { kappa: 6, start: "lower" },
    );
    for (let i = 0; i < field_T.length; i++) expect(magnetisation[i]).toBeCloseTo(single.magnetisation[i], 13);
  });

  it("rise and fall on mirrored branches, with the initial curve half-way", () => {
    const curve = (branch: "initial" | "ascending" | "descending") =>
      chainMagnetisation(field_T, nodes, { kappa: 5, branch }).magnetisation;
    const [up, down, first] = [curve("ascending"), curve("descending"), curve("initial")];
    for (let i = 0; i < up.length; i++) {
      expect(up[i]).toBeCloseTo(-down[up.length - 1 - i], 13);
      expect(first[i]).toBeCloseTo((up[i] + down[i]) / 2, 13);
    }
    expect(down[20] - up[20]).toBeGreaterThan(0.5);
  });

  it("passed as a history, jump on the same points as the two branches", () => {
    const loop_T = Float64Array.of(...reversed_T, ...field_T);
    const m = chainHistory(loop_T, nodes, { kappa: 5, start: "upper" });
    const down = chainMagnetisation(reversed_T, nodes, { kappa: 5, branch: "descending" }).magnetisation;
    const up = chainMagnetisation(field_T, nodes, { kappa: 5, branch: "ascending" }).magnetisation;
    const both = [...down, ...up];
    for (let i = 0; i < m.length; i++) expect(m[i]).toBeCloseTo(both[i], 12);
  });

  it("state their derivatives: against central differences", () => {
    const [b, h] = [3e-3, 1e-6];
    const at = (field: number, kappa: number) => chainMagnetisation(Float64Array.of(field), nodes, { kappa });
    const { slope_per_T, perCoupling } = at(b, 2);
    const inField = (at(b + h, 2).magnetisation[0] - at(b - h, 2).magnetisation[0]) / (2 * h);
    const inCoupling = (at(b, 2 + h).magnetisation[0] - at(b, 2 - h).magnetisation[0]) / (2 * h);
    expect(slope_per_T[0] / inField).toBeCloseTo(1, 6);
    expect(perCoupling[0] / inCoupling).toBeCloseTo(1, 6);
  });

  it("do not depend on the order of the fields beyond rounding", () => {
    const forward = chainMagnetisation(field_T, nodes, { kappa: 2.9 }).magnetisation;
    const backward = chainMagnetisation(reversed_T, nodes, { kappa: 2.9 }).magnetisation.reverse();
    for (let i = 0; i < forward.length; i++) expect(forward[i]).toBeCloseTo(backward[i], 13);
  });

  it("narrow with coupling, and refuse nodes that do not fit", () => {
    expect(chainWidth_T(nodes, { kappa: 2 })).toBeLessThan(0.3 * chainWidth_T(nodes, { kappa: 0 }));
    const short = { xiPerTesla: nodes.xiPerTesla, weight: Float64Array.of(1) };
    expect(() => chainMagnetisation(field_T, short, { kappa: 2 })).toThrow(/1 weights for/);
    const negative = { xiPerTesla: Float64Array.of(500, 800), weight: Float64Array.of(2, -1) };
    expect(() => chainMagnetisation(field_T, negative, { kappa: 2 })).toThrow(/at weight/);
    const branch = "both" as "initial";
    expect(() => chainMagnetisation(field_T, nodes, { kappa: 2, branch })).toThrow(/one of initial, ascending/);
  });
});
