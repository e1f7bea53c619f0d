import { describe, expect, it } from "vitest";
import type { ReceiveChain } from "./receive-chain.js";
import { noiseDensity_V_per_sqrtHz, noiseInBand_V, quantisationNoise_V_per_sqrtHz } from "./receive-noise.js";

const chain: ReceiveChain = {
  coil: { resistance_Ohm: 50, inductance_H: 1e-6, capacitance_F: 0, temperature_K: 300 },
  filter: {},
  amplifier: { voltageNoise_V_per_sqrtHz: 0, currentNoise_A_per_sqrtHz: 0, gain: 1000 },
  digitiser: { bits: 24, range_V: 2, samplingRate_Hz: 2.5e6 },
};

describe("noise of a receive chain", () => {
  it("is the coil's own where the rest is silent: 0.910159 nV per root hertz (facts W42)", () => {
    const { total, coil, quantisation } = noiseDensity_V_per_sqrtHz(chain, 75e3);
    expect(coil * 1e9).toBeCloseTo(0.910159, 6);
    expect(quantisation).toBeLessThan(1e-3 * coil);
    expect(total).toBeCloseTo(coil, 14);
  });

  it("white noise in a band is density times root bandwidth", () => {
    const rms = noiseInBand_V(chain, { from_Hz: 0, to_Hz: 1e6 });
    expect(rms / (noiseDensity_V_per_sqrtHz(chain, 75e3).total * 1e3)).toBeCloseTo(1, 9);
  });

  it("a filter before the amplifier raises what comes after it, not the coil", () => {
    const noisy = { ...chain, amplifier: { ...chain.amplifier, voltageNoise_V_per_sqrtHz: 1e-9 } };
    const filter = { notches: [{ frequency_Hz: 75e3, width_Hz: 1e3, attenuation_dB: 20 }] };
    const [open, blocked] = [noisy, { ...noisy, filter }].map((one) => noiseDensity_V_per_sqrtHz(one, 75e3));
    expect(blocked.amplifierVoltage / open.amplifierVoltage).toBeCloseTo(10, 10);
    expect(blocked.coil).toBe(open.coil);
  });

  it("at resonance the amplifier's voltage noise shrinks by Q, seen from the coil", () => {
    const tuned: ReceiveChain = {
      ...chain,
      coil: {
        ...chain.coil,
        resistance_Ohm: 1,
        inductance_H: 50e-6,
        capacitance_F: 1 / ((2 * Math.PI * 5e5) ** 2 * 50e-6),
      },
      amplifier: { ...chain.amplifier, voltageNoise_V_per_sqrtHz: 1e-9 },
    };
    const quality = 2 * Math.PI * 5e5 * 50e-6;
    expect(noiseDensity_V_per_sqrtHz(tuned, 5e5).amplifierVoltage * quality).toBeCloseTo(1e-9, 15);
  });

  it("rounding: LSB/sqrt(12) spread to half the sampling rate", () => {
    const density = quantisationNoise_V_per_sqrtHz({ bits: 16, range_V: 2, samplingRate_Hz: 2.5e6 });
    expect(density * Math.sqrt(1.25e6)).toBeCloseTo(2 / 65536 / Math.sqrt(12), 15);
  });

  it("refuses frequencies above half the sampling rate, an inverted band, no gain", () => {
    expect(() => noiseDensity_V_per_sqrtHz(chain, 1.3e6)).toThrow(/fold back/);
    expect(() => noiseInBand_V(chain, { from_Hz: 2e5, to_Hz: 1e5 })).toThrow(/band/);
    const dead = { ...chain, amplifier: { ...chain.amplifier, gain: 0 } };
    expect(() => noiseDensity_V_per_sqrtHz(dead, 75e3)).toThrow(/amplifier.gain/);
  });
});
