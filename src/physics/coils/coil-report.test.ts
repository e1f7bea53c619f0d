import { describe, expect, it } from "vitest";
import { coilReport } from "./coil-report.js";
import { alternatingResistance_Ohm, coilResistance_Ohm } from "./coil-resistance.js";
import { conductorMaterials } from "./conductors.js";
import { skinDepth_m, skinEffect } from "./skin-effect.js";
import type { Coil, Winding } from "./winding.js";
import { measureWinding, windingResistance_Ohm } from "./winding-measures.js";

const stack: Winding = {
  shape: {
    kind: "coil-stack",
    center_m: [0, 0, 0],
    normal: [0, 0, 1],
    innerRadius_m: 0.05,
    outerRadius_m: 0.06,
    length_m: 0.1,
  },
  turns: 200,
  material: conductorMaterials.copper,
  conductor: { fillFactor: 0.5 },
};
const coil: Coil = { windings: [stack] };
const litz: Coil = { windings: [{ ...stack, strandDiameter_m: 5e-5 }] };

describe("resistance", () => {
  it("of litz at 25 kHz is nearly the direct one, of solid wire that of its skin", () => {
    const direct = windingResistance_Ohm(stack, 293.15);
    const [thin, solid] = [litz, coil].map((c) => coilResistance_Ohm(c, { frequency_Hz: 25e3 }));
    // A strand of a/δ = 0.06: 1 + q⁴/48.
    expect(thin / direct - 1).toBeCloseTo(0.0598 ** 4 / 48, 8);
    const radius = Math.sqrt(measureWinding(stack).metalArea_m2 / Math.PI);
    expect(solid / direct).toBeCloseTo(skinEffect(radius, skinDepth_m(1.7241e-8, 25e3)).resistanceRatio, 12);
  });
  it("counts the eddy currents of the own field when it is given: 2·P/I²", () => {
    const options = { frequency_Hz: 25e3, ownField_T_per_A: 1e-3 };
    const extra =
      alternatingResistance_Ohm(litz.windings[0], options) - coilResistance_Ohm(litz, { frequency_Hz: 25e3 });
    const volume = measureWinding(stack).metalVolume_m3;
    // V·ω²·B²·d²/(32·ρ) at 1 A peak is R/2.
    const loss = (volume * (2 * Math.PI * 25e3) ** 2 * 1e-6 * 25e-10) / (32 * 1.7241e-8);
    expect(extra / (2 * loss)).toBeCloseTo(1, 9);
    expect(coilResistance_Ohm(litz, { frequency_Hz: 25e3, ownField_T_per_A: [1e-3] })).toBe(
      alternatingResistance_Ohm(litz.windings[0], options),
    );
  });
  it("of windings in series adds up", () => {
    const one = coilResistance_Ohm(coil);
    expect(coilResistance_Ohm({ windings: [stack, stack] })).toBe(2 * one);
    expect(() => coilResistance_Ohm(coil, { frequency_Hz: 1e3, ownField_T_per_A: [1, 2] })).toThrow(/2 fields for 1/);
  });
});

describe("coil report", () => {
  const use = { current_A: 40, frequency_Hz: 25e3 };

  it("direct current: heat is ρ·j² in every cubic metre of metal", () => {
    const { power_W, currentDensity_A_per_m2, voltagePeak_V, apparentPower_VA, reactivePower_var, ...rest } =
      coilReport(coil, { current_A: 10 });
    const { metalVolume_m3, metalArea_m2 } = measureWinding(stack);
    expect(currentDensity_A_per_m2).toBeCloseTo(10 / metalArea_m2, 3);
    expect(power_W / (1.7241e-8 * currentDensity_A_per_m2 ** 2 * metalVolume_m3)).toBeCloseTo(1, 12);
    expect(voltagePeak_V / (power_W / 10)).toBeCloseTo(1, 12);
    expect(apparentPower_VA).toBeCloseTo(power_W, 9);
    expect(reactivePower_var).toBe(0);
    expect(rest.currentRms_A).toBe(10);
    expect(rest.resistance_Ohm).toBe(rest.directResistance_Ohm);
    expect(rest).toMatchObject({ rampVoltage_V: null, coolantFlow_m3_per_s: null, steadyTemperature_K: null });
  });
  it("sine: peak and rms, S² = P² + Q², Q = ω times the peak energy", () => {
    const report = coilReport(litz, use);
    const { power_W: p, reactivePower_var: q, apparentPower_VA: s } = report;
    expect(report.currentRms_A).toBeCloseTo(40 / Math.SQRT2, 12);
    expect(report.voltageRms_V).toBeCloseTo(report.voltagePeak_V / Math.SQRT2, 9);
    expect(s / (report.voltageRms_V * report.currentRms_A)).toBeCloseTo(1, 12);
    expect((p * p + q * q) / (s * s)).toBeCloseTo(1, 12);
    expect(q / (2 * Math.PI * 25e3 * report.storedEnergy_J)).toBeCloseTo(1, 12);
    expect(p / (report.resistance_Ohm * 800)).toBeCloseTo(1, 12);
  });
  it("a ramp needs L·dI/dt on top of the drop", () => {
    const { rampVoltage_V, inductance_H, directResistance_Ohm } = coilReport(coil, {
      current_A: 5,
      currentRate_A_per_s: 2000,
    });
    expect(rampVoltage_V).toBeCloseTo(2000 * inductance_H + 5 * directResistance_Ohm, 12);
  });
  it("carries away the heat of its duty cycle", () => {
    const [full, half] = [1, 0.5].map((dutyCycle) => coilReport(coil, { current_A: 10, dutyCycle, coolantRise_K: 10 }));
    expect(half.heat_W / full.heat_W).toBeCloseTo(0.5, 12);
    expect(half.power_W).toBe(full.power_W);
    expect(full.coolantFlow_m3_per_s).toBeCloseTo(full.heat_W / (997 * 4180 * 10), 15);
  });
  it("finds the temperature at which it settles", () => {
    const cool = { current_A: 10, thermalResistance_K_per_W: 0.3 };
    const { steadyTemperature_K: settled } = coilReport(coil, cool);
    const again = coilReport(coil, { ...cool, temperature_K: settled ?? Number.NaN });
    // At its own temperature the rise is R_th times the heat.
    expect(293.15 + 0.3 * again.heat_W).toBeCloseTo(settled ?? Number.NaN, 6);
    expect(again.advisories.filter((text) => text.includes("settles"))).toEqual([]);
  });
  it("weighs its metal", () => {
    expect(coilReport(coil, { current_A: 1 }).mass_kg).toBeCloseTo(8890 * 0.5 * Math.PI * 0.0011 * 0.1, 9);
  });
  it("does not mind which way the current goes", () => {
    expect(coilReport(litz, { ...use, current_A: -40 })).toEqual(coilReport(litz, use));
  });

  it.each<[string, Coil, Parameters<typeof coilReport>[1], RegExp]>([
    ["a dense current in air", coil, { current_A: 20 }, /8.00 A\/mm2.*above the 3 to 5 A\/mm2 usual in air/],
    ["a current of the usual band", coil, { current_A: 10 }, /within the 3 to 5/],
    ["a solid wire at high frequency", coil, use, /wire of 1.78 mm is thicker than the skin depth of 0.418 mm.*litz/],
    ["proximity left out", litz, use, /proximity.*lower bound/],
    ["a runaway", coil, { current_A: 20, thermalResistance_K_per_W: 5 }, /no steady temperature/],
    ["a warm conductor", coil, { current_A: 10, thermalResistance_K_per_W: 0.3 }, /settles at/],
    [
      "a fill that round wire cannot reach",
      { windings: [{ ...stack, conductor: { fillFactor: 0.95 } }] },
      { current_A: 1 },
      /0.950 of its section.*at most 0.907/,
    ],
  ])("advises on %s", (_, given, how, message) => {
    expect(coilReport(given, how).advisories.join("\n")).toMatch(message);
  });
  it("has nothing to say of a cool coil", () => {
    expect(coilReport(coil, { current_A: 5 }).advisories).toEqual([]);
    expect(coilReport(coil, { current_A: 20, cooling: "water" }).advisories).toEqual([]);
  });
  it.each<[string, Parameters<typeof coilReport>[1], RegExp]>([
    ["no current", { current_A: 0 }, /current_A/],
    ["a negative frequency", { current_A: 1, frequency_Hz: -1 }, /frequency_Hz/],
    ["a duty cycle above 1", { current_A: 1, dutyCycle: 1.5 }, /dutyCycle/],
    ["a negative thermal resistance", { current_A: 1, thermalResistance_K_per_W: -1 }, /thermalResistance/],
    ["a negative temperature", { current_A: 1, temperature_K: -1 }, /temperature_K/],
  ])("refuses %s", (_, how, message) => expect(() => coilReport(coil, how)).toThrow(message));
});
