import { describe, expect, it } from "vitest";
import { adviseOnDither, dynamicRange } from "./dynamic-range.js";
import type { ReceiveChain } from "./receive-chain.js";

const chain: ReceiveChain = {
  coil: { resistance_Ohm: 50, inductance_H: 1e-6, capacitance_F: 0, temperature_K: 300 },
  filter: { notches: [{ frequency_Hz: 25e3, width_Hz: 2e3, attenuation_dB: 60 }] },
  amplifier: { voltageNoise_V_per_sqrtHz: 0, currentNoise_A_per_sqrtHz: 0, gain: 100 },
  digitiser: { bits: 16, range_V: 2, samplingRate_Hz: 2.5e6 },
};
const band = { from_Hz: 50e3, to_Hz: 1.25e6 };
const feedthrough = [{ frequency_Hz: 25e3, amplitude_V: 4 }];

describe("dynamic range", () => {
  it("4 V less 60 dB times 100 is 0.4 V: 40 % of full scale", () => {
    const found = dynamicRange(chain, feedthrough, band);
    expect(found.peakAtDigitiser_V).toBeCloseTo(0.4, 10);
    expect(found.fullScaleShare).toBeCloseTo(0.4, 10);
    // Coil noise 0.910159 nV over 1.2 MHz: 0.997 uV, 100 times.
    const noise = 0.910159e-9 * Math.sqrt(1.2e6) * 100;
    expect(found.noiseAtDigitiser_V / noise).toBeCloseTo(1, 3);
    expect(found.demanded_dB).toBeCloseTo(20 * Math.log10(0.4 / noise), 2);
    expect(found.demandedBits).toBeCloseTo(Math.log2(0.8 / Math.sqrt(12) / noise), 2);
    expect(found.advisories).toEqual([]);
  });

  it("16 bits over the whole band to half the rate are 6.02 b + 4.77 dB, peak over rms", () => {
    const { available_dB } = dynamicRange(chain, feedthrough, { from_Hz: 0, to_Hz: 1.25e6 });
    expect(available_dB).toBeCloseTo(20 * Math.log10(2 ** 15 * Math.sqrt(12)), 9);
    expect(available_dB).toBeCloseTo(16 * 6.0206 + 10 * Math.log10(3), 3);
  });

  it("says when it clips, when noise does not dither, and when a line meets the resonance", () => {
    const open = dynamicRange({ ...chain, filter: {} }, feedthrough, band);
    expect(open.advisories).toEqual([expect.stringContaining("clips")]);
    const coarse = { ...chain, digitiser: { ...chain.digitiser, bits: 8 } };
    expect(dynamicRange(coarse, feedthrough, band).advisories).toEqual([expect.stringContaining("of a code")]);
    const tuned = { ...chain, coil: { ...chain.coil, inductance_H: 1e-3, capacitance_F: 40e-9 } };
    expect(dynamicRange(tuned, feedthrough, band).advisories).toContainEqual(expect.stringContaining("resonance"));
    expect(adviseOnDither(0.5)).toEqual([]);
  });

  it("refuses a line above half the sampling rate and a negative peak", () => {
    expect(() => dynamicRange(chain, [{ frequency_Hz: 2e6, amplitude_V: 1 }], band)).toThrow(/lines\[0\].frequency_Hz/);
    expect(() => dynamicRange(chain, [{ frequency_Hz: 25e3, amplitude_V: -1 }], band)).toThrow(/amplitude_V/);
  });
});
