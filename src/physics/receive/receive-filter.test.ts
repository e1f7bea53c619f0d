import { describe, expect, it } from "vitest";
import { filterAttenuation_dB, filterGain, type ReceiveFilter } from "./receive-filter.js";

describe("receive filter", () => {
  it("passes everything when empty, 3 dB down at every corner", () => {
    expect(filterGain({}, 25e3)).toBe(1);
    const filter: ReceiveFilter = { highPass: { corner_Hz: 45e3, order: 3 } };
    expect(filterGain(filter, 45e3)).toBeCloseTo(Math.SQRT1_2, 14);
    expect(filterGain({ lowPass: { corner_Hz: 1e6, order: 5 } }, 1e6)).toBeCloseTo(Math.SQRT1_2, 14);
  });

  it("falls 6 dB per octave and order far below the corner", () => {
    const filter: ReceiveFilter = { highPass: { corner_Hz: 1e6, order: 3 } };
    const octave = filterAttenuation_dB(filter, 1e3) - filterAttenuation_dB(filter, 2e3);
    expect(octave).toBeCloseTo(3 * 20 * Math.log10(2), 6);
  });

  it("a notch has its attenuation at the centre, 3 dB at its width, none far away", () => {
    const filter: ReceiveFilter = { notches: [{ frequency_Hz: 25e3, width_Hz: 2e3, attenuation_dB: 80 }] };
    expect(filterAttenuation_dB(filter, 25e3)).toBeCloseTo(80, 10);
    const edge = 1e3 + Math.sqrt(1e6 + 25e3 ** 2); // f - f0^2/f = width
    expect(filterAttenuation_dB(filter, edge)).toBeCloseTo(20 * Math.log10(Math.SQRT2), 6);
    expect(filterAttenuation_dB(filter, 1e6)).toBeLessThan(1e-4);
  });

  it("parts multiply", () => {
    const notch = { frequency_Hz: 25e3, width_Hz: 2e3, attenuation_dB: 60 };
    const highPass = { corner_Hz: 50e3, order: 2 };
    const both = filterAttenuation_dB({ highPass, notches: [notch] }, 25e3);
    expect(both).toBeCloseTo(60 + filterAttenuation_dB({ highPass }, 25e3), 10);
  });

  it("refuses corners that cross, orders that are not whole, attenuations below 0", () => {
    const refused: [ReceiveFilter, RegExp][] = [
      [{ highPass: { corner_Hz: 2e6, order: 1 }, lowPass: { corner_Hz: 1e6, order: 1 } }, /filter.lowPass.corner_Hz/],
      [{ highPass: { corner_Hz: 2e6, order: 1.5 } }, /filter.highPass.order/],
      [{ notches: [{ frequency_Hz: 25e3, width_Hz: 2e3, attenuation_dB: -3 }] }, /notches\[0\].attenuation_dB/],
    ];
    for (const [filter, place] of refused) expect(() => filterGain(filter, 1e5)).toThrow(place);
  });
});
