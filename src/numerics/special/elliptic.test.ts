import { describe, expect, it } from "vitest";
import { cel, ellipticE, ellipticK, ellipticKE } from "./elliptic.js";

describe("complete elliptic integrals", () => {
  it("m = 0 gives pi/2 twice; m = 1 gives Infinity and 1; beyond, NaN", () => {
    expect([...ellipticKE(0)]).toEqual([Math.PI / 2, Math.PI / 2]);
    expect([...ellipticKE(1)]).toEqual([Number.POSITIVE_INFINITY, 1]);
    expect([...ellipticKE(1.5)]).toEqual([Number.NaN, Number.NaN]);
  });

  it("Legendre's relation: E K' + E' K − K K' = pi/2", () => {
    for (const m of [1e-6, 0.1, 0.5, 0.93]) {
      const [k, e, kc, ec] = [ellipticK(m), ellipticE(m), ellipticK(1 - m), ellipticE(1 - m)];
      expect(e * kc + ec * k - k * kc).toBeCloseTo(Math.PI / 2, 13);
    }
  });

  it("the general integral contains the others", () => {
    for (const m of [-2, 0.3, 0.9]) {
      const kc = Math.sqrt(1 - m);
      expect(cel(kc, 1, [1, 1])).toBeCloseTo(ellipticK(m), 14);
      expect(cel(kc, 1, [1, 1 - m])).toBeCloseTo(ellipticE(m), 14);
    }
    // kc = 1: elementary, pi/2 (a + b/sqrt p)/(1 + sqrt p).
    expect(cel(1, 4, [3, 5])).toBeCloseTo(((Math.PI / 2) * (3 + 5 / 2)) / 3, 14);
  });

  it("has no value at kc = 0 or p = 0", () => {
    expect(cel(0, 1, [1, 1])).toBeNaN();
    expect(cel(0.5, 0, [1, 1])).toBeNaN();
    expect(cel(-0.5, 2, [1, 1])).toBe(cel(0.5, 2, [1, 1]));
  });
});
