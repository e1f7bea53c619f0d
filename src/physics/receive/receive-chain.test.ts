import { describe, expect, it } from "vitest";
import { coilResonance, coilResponse, type ReceiveCoil, requireBelowNyquist } from "./receive-chain.js";

/** 1 MHz: 50 uH with 506.6 pF; w L = 314.16 Ohm. */
const coil: ReceiveCoil = {
  resistance_Ohm: 2,
  inductance_H: 50e-6,
  capacitance_F: 1 / ((2 * Math.PI * 1e6) ** 2 * 50e-6),
  temperature_K: 300,
};

describe("coil circuit", () => {
  it("resonates where w^2 L C = 1, raises the voltage Q times there, and not far below", () => {
    const found = coilResonance(coil);
    expect(found?.frequency_Hz).toBeCloseTo(1e6, 3);
    const quality = (2 * Math.PI * 1e6 * 50e-6) / 2;
    expect(found?.quality).toBeCloseTo(quality, 9);
    expect(found?.loadedQuality).toBeCloseTo(quality, 9);
    expect(coilResponse(coil, 1e6).gain).toBeCloseTo(quality, 6);
    expect(coilResponse(coil, 1e3).gain).toBeCloseTo(1, 5);
  });

  it("is damped by the amplifier and the body: 1/Q adds", () => {
    const body = { resistance_Ohm: 0.02, frequency_Hz: 100e3, temperature_K: 310 }; // 2 Ohm at 1 MHz
    const x = 2 * Math.PI * 1e6 * 50e-6;
    const found = coilResonance({ ...coil, body }, { inputResistance_Ohm: 10e3 });
    expect(1 / (found?.loadedQuality ?? 0)).toBeCloseTo(4 / x + x / 10e3, 12);
    expect(coilResponse({ ...coil, body }, 1e6).bodyResistance_Ohm).toBeCloseTo(2, 12);
  });

  it("without capacitance nothing resonates and the impedance is that of R and L", () => {
    const plain = { ...coil, capacitance_F: 0 };
    expect(coilResonance(plain)).toBeUndefined();
    const found = coilResponse(plain, 100e3);
    expect(found.gain).toBe(1);
    expect(found.outputImpedance_Ohm).toBeCloseTo(Math.hypot(2, 2 * Math.PI * 1e5 * 50e-6), 12);
  });

  it("refuses a negative resistance, with its place, and frequencies that fold back", () => {
    expect(() => coilResponse({ ...coil, resistance_Ohm: -1 }, 1e5)).toThrow(/coil.resistance_Ohm/);
    expect(() => requireBelowNyquist({ bits: 16, range_V: 2, samplingRate_Hz: 2.5e6 }, 1.3e6)).toThrow(/fold back/);
  });
});
