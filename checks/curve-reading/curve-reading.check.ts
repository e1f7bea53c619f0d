import { describe, expect, it } from "vitest";
import { readCase, readNumbers, spectrumError, truth } from "./compare.js";

// Rounding of numpy's FFT of 4096 samples, about 1e-16 of the fundamental, and of a phase printed in degrees. A wrong
// convention is wrong by the size of a harmonic: 0.1 at least. Aim: 1e-15.
const tolerance = 2e-15;

describe("spectra against numpy, as each laboratory writes them", () => {
  it("has every case", () => expect(truth.cases).toHaveLength(19));

  it.each(truth.cases)("$name", (sample) => {
    const spectrum = readCase(sample);
    expect([...spectrum.harmonic]).toEqual(sample.harmonic);
    expect(spectrumError(sample)).toBeLessThan(tolerance);
    expect(spectrum.unit).toBe("A.m2");
    expect(spectrum.findings).toEqual([]); // so the fundamental lags, as a passive sample's does
  });

  it("tells when a convention turns the lag into a lead", () => {
    const [right] = truth.cases;
    const wrong = readCase({ ...right, facts: { ...right.facts, phaseConvention: "exp(-iwt)" } });
    expect(wrong.findings[0]).toMatch(/leads the drive.*phaseConvention.*: line 1$/);
  });
});

describe("numbers against Python's float", () => {
  it("are the same to the last bit", () => {
    const read = readNumbers();
    expect(read).toHaveLength(406);
    expect(read.filter(({ ours, python }) => !Object.is(ours, python))).toEqual([]);
  });
});
