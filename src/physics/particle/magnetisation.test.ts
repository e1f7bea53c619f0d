import { describe, expect, it } from "vitest";
import { xiPerTesla } from "./core.js";
import { langevin, langevinSlope } from "./langevin.js";
import {
  initialSlope_per_T,
  type ParticleEnsemble,
  relativeMagnetisation,
  relativeSlope_per_T,
} from "./magnetisation.js";

const material = { saturation_A_per_m: 446e3, temperature_K: 300 };
const single: ParticleEnsemble = { ...material, sizes: { kind: "single", diameter_m: 25e-9 } };
const spread: ParticleEnsemble = {
  ...material,
  sizes: { kind: "lognormal", weighting: "number", medianDiameter_m: 18e-9, logSd: 0.25 },
};
const field_T = Float64Array.of(-0.1, -2e-3, 0, 1e-3, 0.02, 1);

describe("equilibrium magnetisation", () => {
  it("of one size is the Langevin function", () => {
    const k = xiPerTesla(25e-9, 446e3, 300);
    expect(Array.from(relativeMagnetisation(field_T, single))).toEqual(Array.from(field_T, (b) => langevin(k * b)));
    const slopes = relativeSlope_per_T(field_T, single);
    field_T.forEach((b, i) => {
      expect(Math.abs(slopes[i] / (k * langevinSlope(k * b)) - 1)).toBeLessThan(1e-14);
    });
  });

  it("is odd, grows with the field and stays below saturation", () => {
    const up = relativeMagnetisation(field_T, spread);
    const down = relativeMagnetisation(
      field_T.map((b) => -b),
      spread,
    );
    expect(Array.from(down)).toEqual(Array.from(up, (m) => 0 - m));
    for (let i = 1; i < up.length; i++) expect(up[i]).toBeGreaterThan(up[i - 1]);
    expect(up[up.length - 1]).toBeLessThan(1);
  });

  it("has the slope of its own curve (central difference, 1e-7 by its h^2 error)", () => {
    const h = 3e-7;
    const at = Float64Array.of(-0.03, 0, 2e-3, 0.02);
    const high = relativeMagnetisation(
      at.map((b) => b + h),
      spread,
    );
    const low = relativeMagnetisation(
      at.map((b) => b - h),
      spread,
    );
    relativeSlope_per_T(at, spread).forEach((slope, i) => {
      expect(Math.abs((high[i] - low[i]) / (2 * h) / slope - 1)).toBeLessThan(1e-7);
    });
  });

  it("starts with the slope of the d^6-weighted core", () => {
    const [slope] = relativeSlope_per_T(Float64Array.of(0), spread);
    expect(Math.abs(slope / initialSlope_per_T(spread) - 1)).toBeLessThan(1e-14);
    const broadening = Math.exp(13.5 * 0.25 ** 2); // <d^6>/(<d^3> d0^3)
    expect(initialSlope_per_T(spread) / ((xiPerTesla(18e-9, 446e3, 300) / 3) * broadening)).toBeCloseTo(1, 13);
  });

  it("may write over its input and refuses another length", () => {
    const aliased = Float64Array.from(field_T);
    relativeMagnetisation(aliased, spread, { out: aliased });
    expect(aliased).toEqual(relativeMagnetisation(field_T, spread));
    expect(() => relativeMagnetisation(field_T, spread, { out: new Float64Array(2) })).toThrow(
      /at out: found length 2/,
    );
  });

  it("refuses particles that cannot be", () => {
    expect(() => relativeMagnetisation(field_T, { ...single, temperature_K: 0 })).toThrow(/temperature_K: found 0/);
    expect(() => relativeMagnetisation(field_T, { ...single, saturation_A_per_m: -1 })).toThrow(/saturation_A_per_m/);
  });
});
