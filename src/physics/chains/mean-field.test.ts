import { describe, expect, it } from "vitest";
import { langevin, langevinSlope } from "../particle/langevin.js";
import { followBranch, meanFieldStates } from "./mean-field.js";
import { meanFieldWidth } from "./mean-field-width.js";
import { remanence, spinodal } from "./spinodal.js";

const couplings = [0, 0.5, 2, 2.999, 3, 3.001, 4, 6, 20, 1e4];
const fields = [-40, -3, -0.7, -1e-3, 0, 1e-6, 0.2, 1, 5, 100];

describe("states of the mean-field chain", () => {
  it("solve M = L(xi + kappa M)", () => {
    for (const kappa of couplings)
      for (const xi of fields) {
        const states = Object.values(meanFieldStates(xi, kappa)).filter((state) => state !== undefined);
        expect(states.length).toBeGreaterThan(0);
        for (const m of states) expect(Math.abs(m - langevin(xi + kappa * m))).toBeLessThan(4e-16 * (1 + kappa / 3));
      }
  });

  it("are Langevin's without coupling, and one state up to kappa = 3", () => {
    for (const xi of fields) {
      const { lower, unstable, upper } = meanFieldStates(xi, 0);
      expect(lower).toBeCloseTo(langevin(xi), 15);
      expect([unstable, upper]).toEqual([undefined, lower]);
      expect(meanFieldStates(xi, 3).upper).toBe(meanFieldStates(xi, 3).lower);
    }
  });

  it("mirror each other, three within the coercive field and one outside", () => {
    const end = spinodal(6);
    if (end === undefined) throw new Error("kappa = 6 has a spinodal");
    const inside = meanFieldStates(1.2, 6);
    const mirrored = meanFieldStates(-1.2, 6);
    expect([mirrored.upper, mirrored.lower].map((m) => -(m ?? Number.NaN))).toEqual([inside.lower, inside.upper]);
    expect(inside.unstable).toBeCloseTo(-(mirrored.unstable ?? Number.NaN), 14);
    const outside = meanFieldStates(1.0000001 * end.coerciveXi, 6);
    expect([outside.lower, outside.unstable]).toEqual([undefined, undefined]);
  });

  it("follow the critical cube root at kappa = 3 exactly: M^3 = 5 xi / 9", () => {
    // xi = u^3/15 and M = u/3 to leading order; the next terms are about u^2/10 of them, 3e-10 at xi = 1e-14.
    for (const xi of [1e-14, 1e-20, 1e-30])
      expect((meanFieldStates(xi, 3).upper ?? 0) / Math.cbrt((5 * xi) / 9)).toBeCloseTo(1, 8);
  });

  it("refuse negative or absent coupling and a field that is no number", () => {
    expect(() => meanFieldStates(1, -0.1)).toThrow(/at coupling: found -0.1/);
    expect(() => meanFieldStates(1, Number.NaN)).toThrow(/at coupling/);
    expect(() => meanFieldStates(Number.NaN, 2)).toThrow(/at xi/);
  });
});

describe("coercive field and remanence", () => {
  it("end where a branch is vertical", () => {
    for (const kappa of [3.01, 4, 6, 50]) {
      const { localXi, before } = spinodal(kappa) ?? { localXi: Number.NaN, before: Number.NaN };
      expect(kappa * langevinSlope(localXi)).toBeCloseTo(1, 13);
      expect(before).toBeCloseTo(-langevin(localXi), 15);
    }
  });

  it("vanish up to kappa = 3 and meet kappa - 2 sqrt(kappa) for strong coupling", () => {
    for (const kappa of [0, 2, 3]) expect([spinodal(kappa), remanence(kappa)]).toEqual([undefined, 0]);
    // L'(u) = 1/u^2 up to exp(-2u): exact in double precision from kappa = 400 on.
    for (const kappa of [400, 1e4, 1e8])
      expect((spinodal(kappa)?.coerciveXi ?? 0) / (kappa - 2 * Math.sqrt(kappa))).toBeCloseTo(1, 14);
  });

  it("open as the 3/2 power of kappa - 3", () => {
    // u*^2 = 5 d/3 for d = kappa - 3, then xi_c = (2/9) d u*, to leading order in d: the next terms are of relative size d.
    for (const d of [1e-4, 1e-6]) {
      const expected = (2 / 9) * d * Math.sqrt((5 * d) / 3);
      expect(Math.abs((spinodal(3 + d)?.coerciveXi ?? 0) / expected - 1)).toBeLessThan(d);
    }
  });
});

describe("point spread function", () => {
  it("has half its peak at half its width", () => {
    for (const kappa of [0, 1, 2, 2.9]) {
      const half = meanFieldWidth(kappa) / 2;
      const { slope } = followBranch(Float64Array.of(-half, 0, half), { kappa });
      expect(slope[1]).toBeCloseTo(1 / (3 - kappa), 12);
      expect(slope[0] / slope[1]).toBeCloseTo(0.5, 12);
      expect(slope[2] / slope[1]).toBeCloseTo(0.5, 12);
    }
  });

  it("has no width from kappa = 3 on", () => {
    expect(() => meanFieldWidth(3)).toThrow(/at coupling: found 3; accepted: a coupling from 0 and below 3/);
  });
});

describe("quasi-static history", () => {
  const xi_c = spinodal(6)?.coerciveXi ?? Number.NaN;

  it("keeps its branch inside the coercive field and jumps beyond", () => {
    const xi = Float64Array.of(-1.22, 1.22, 1.23, -1.22, -1.23, 0);
    const { magnetisation } = followBranch(xi, { kappa: 6, start: "lower" });
    expect(Array.from(magnetisation, Math.sign)).toEqual([-1, -1, 1, 1, -1, -1]);
    for (let i = 0; i < xi.length; i++) {
      const { lower, upper } = meanFieldStates(xi[i], 6);
      expect(magnetisation[i]).toBeCloseTo((magnetisation[i] < 0 ? lower : upper) ?? Number.NaN, 14);
    }
  });

  it("starts demagnetised with as many chains up as down, and turns them together", () => {
    const { magnetisation } = followBranch(Float64Array.of(0, 1, 1.3, 0), { kappa: 6 });
    const { lower, upper } = meanFieldStates(1, 6);
    expect(magnetisation[0]).toBe(0);
    expect(magnetisation[1]).toBeCloseTo(((lower ?? 0) + (upper ?? 0)) / 2, 14);
    expect(magnetisation[3]).toBeCloseTo(remanence(6), 14);
  });

  it("is reversible in minor loops and the same for a loop passed twice", () => {
    const minor = Float64Array.of(-xi_c * 0.9, 0, xi_c * 0.9, 0, -xi_c * 0.9);
    const { magnetisation: m } = followBranch(minor, { kappa: 6, start: "upper" });
    expect(m[3]).toBeCloseTo(m[1], 14);
    expect(m[4]).toBeCloseTo(m[0], 13);
  });

  it("passes NaN on without losing its place, and saturates at infinite fields", () => {
    const { magnetisation: m } = followBranch(Float64Array.of(2, Number.NaN, 0, Number.NEGATIVE_INFINITY, 0), {
      kappa: 6,
    });
    expect(m[1]).toBeNaN();
    expect(m[2]).toBeCloseTo(remanence(6), 14);
    expect(m[3]).toBe(-1);
    expect(m[4]).toBeCloseTo(-m[2], 14);
  });

  it("refuses an unknown start", () => {
    const start = "middle" as "upper";
    expect(() => followBranch(Float64Array.of(0), { kappa: 6, start })).toThrow(/one of lower, upper, demagnetised/);
  });
});
