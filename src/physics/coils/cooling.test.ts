import { describe, expect, it } from "vitest";
import { coolantFlow_m3_per_s, steadyTemperature_K } from "./cooling.js";

describe("cooling", () => {
  it("1 kW at a rise of 10 K takes 1000/(997·4180·10) m3/s = 1.440 L/min of water", () => {
    expect(coolantFlow_m3_per_s(1000, 10) * 6e4).toBeCloseTo(1.4397, 4);
  });
  it("settles where heat and loss agree: T − Ta = R_th·P0/(1 − R_th·P0·α)", () => {
    const [thermalResistance_K_per_W, p0, alpha] = [0.4, 200, 3.93e-3];
    const heat = (kelvin: number) => p0 * (1 + alpha * (kelvin - 293.15));
    const rise = (0.4 * 200) / (1 - 0.4 * 200 * alpha);
    expect(steadyTemperature_K(heat, { thermalResistance_K_per_W })).toBeCloseTo(293.15 + rise, 8);
  });
  it("has no steady state where the heat outgrows the loss, and none asked without a thermal resistance", () => {
    const heat = (kelvin: number) => 400 * (1 + 3.93e-3 * (kelvin - 293.15));
    expect(steadyTemperature_K(heat, { thermalResistance_K_per_W: 1 })).toBeNull();
    expect(steadyTemperature_K(heat)).toBeNull();
  });
  it("refuses what is not positive", () => {
    expect(() => coolantFlow_m3_per_s(10, 0)).toThrow(/coolantRise_K/);
    expect(() => steadyTemperature_K(() => 1, { thermalResistance_K_per_W: -1 })).toThrow(/thermalResistance/);
  });
});
