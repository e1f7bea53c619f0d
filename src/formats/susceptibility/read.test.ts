import { describe, expect, it } from "vitest";
import { isKnownError } from "../../errors.js";
import { type SusceptibilityDescriptor, susceptibilityDescriptorUrn } from "./descriptor.js";
import { parseSusceptibilityDescriptor } from "./parse-descriptor.js";
import { readSusceptibility } from "./read.js";

type Facts = SusceptibilityDescriptor["facts"];
const stated = <T extends string>(value: T) => ({ value, status: "stated" as const, note: "test" });
const facts: Facts = {
  susceptibilityUnit: stated("1"),
  unitSystem: stated("SI"),
  basis: stated("per-sample-volume"),
  frequencyUnit: stated("Hz"),
  fieldAmplitude: stated("0.1 mT"),
  fieldAmplitudeMeaning: stated("peak"),
};
const descriptor = (
  over: Partial<Facts> = {},
  rest: Partial<SusceptibilityDescriptor> = {},
): SusceptibilityDescriptor => ({
  schema: susceptibilityDescriptorUrn,
  name: "test",
  columns: ["frequency", "real", "imaginary"],
  facts: { ...facts, ...over },
  ...rest,
});
const read = (text: string, said: SusceptibilityDescriptor) =>
  readSusceptibility(new TextEncoder().encode(text), said, { file: "a.txt", descriptorFile: "d.json" });

function refusal(text: string, said: SusceptibilityDescriptor) {
  try {
    read(text, said);
  } catch (error) {
    if (isKnownError(error)) return error;
    throw error;
  }
  throw new Error("not refused");
}

const table = "10 2 0.5\n100 1 0.75\n1000 0.5 0.25\n";

describe("readSusceptibility", () => {
  it("reads chi' and chi'' in the order of the file", () => {
    const chi = read(table, descriptor({ frequencyUnit: stated("kHz") }));
    expect([...chi.frequency_Hz]).toEqual([1e4, 1e5, 1e6]);
    expect([...chi.real]).toEqual([2, 1, 0.5]);
    expect([...chi.imaginary]).toEqual([0.5, 0.75, 0.25]);
    expect(chi).toMatchObject({ unit: "1", basis: "per-sample-volume", fieldAmplitude_T: 1e-4, findings: [] });
    expect([chi.sigmaReal, chi.sigmaImaginary]).toEqual([undefined, undefined]);
  });

  /** By hand: 1 emu = 1e-3 A.m2, 1 Oe = 1000/(4 pi) A/m, mu0 = 4 pi 1e-7 to 1.3e-10. */
  it.each<[string, Partial<Facts>, string, number, number]>([
    ["1", { unitSystem: stated("cgs") }, "1", 4 * Math.PI, 1e-15],
    ["emu/cm3/Oe", { unitSystem: undefined }, "1", 4 * Math.PI, 1e-15],
    ["cm3", { unitSystem: stated("SI"), basis: undefined }, "m3", 1e-6, 1e-15],
    ["cm3", { unitSystem: stated("cgs"), basis: undefined }, "m3", 4e-6 * Math.PI, 1e-15],
    ["emu/Oe", { unitSystem: undefined, basis: undefined }, "m3", 4e-6 * Math.PI, 1e-15],
    ["A.m2/T", { unitSystem: undefined, basis: undefined }, "m3", 4e-7 * Math.PI, 1e-9],
    ["m3/kg", { unitSystem: undefined, basis: stated("per-iron-mass") }, "m3/kg", 1, 1e-15],
    ["emu/g/Oe", { unitSystem: undefined, basis: stated("per-oxide-mass") }, "m3/kg", 4e-3 * Math.PI, 1e-15],
    ["cm3/g", { unitSystem: stated("cgs"), basis: stated("per-iron-mass") }, "m3/kg", 4e-3 * Math.PI, 1e-15],
    ["arbitrary", { unitSystem: undefined, basis: undefined }, "arbitrary", 1, 1e-15],
  ])("converts %s (%j) to %s", (unit, over, siUnit, factor, tolerance) => {
    const chi = read("10 2 1\n", descriptor({ ...over, susceptibilityUnit: stated(unit) }));
    expect(chi.unit).toBe(siUnit);
    expect(Math.abs(chi.real[0] / (2 * factor) - 1)).toBeLessThan(tolerance);
    expect(Math.abs(chi.imaginary[0] / factor - 1)).toBeLessThan(tolerance);
  });

  it("takes A/m and makes field amplitudes peak values", () => {
    const amplitude = (text: string, meaning: "peak" | "peak-to-peak" | "rms") =>
      read(table, descriptor({ fieldAmplitude: stated(text), fieldAmplitudeMeaning: stated(meaning) }))
        .fieldAmplitude_T;
    expect(amplitude("80 A/m", "peak") / (80 * 4e-7 * Math.PI)).toBeCloseTo(1, 8);
    expect(amplitude("0.1 mT", "rms") / 1e-4).toBeCloseTo(Math.SQRT2, 14);
    expect(amplitude("0.1 mT", "peak-to-peak")).toBe(5e-5);
  });

  it("reads amplitude and phase, standard deviations of each part, and one for both", () => {
    const polar = read(
      "10 2 30\n",
      descriptor({ phaseUnit: stated("deg") }, { columns: ["frequency", "amplitude", "phase"] }),
    );
    expect(polar.real[0]).toBeCloseTo(Math.sqrt(3), 14);
    expect(polar.imaginary[0]).toBeCloseTo(1, 14);
    const each = read(
      "10 2 1 0.1 0.2\n",
      descriptor({}, { columns: ["frequency", "real", "imaginary", "sigma-real", "sigma-imaginary"] }),
    );
    expect([each.sigmaReal?.[0], each.sigmaImaginary?.[0], each.assumptions]).toEqual([0.1, 0.2, []]);
    const both = read("10 2 1 0.1\n", descriptor({}, { columns: ["frequency", "real", "imaginary", "sigma"] }));
    expect([both.sigmaReal?.[0], both.sigmaImaginary?.[0]]).toEqual([0.1, 0.1]);
    expect(both.assumptions.map(({ fact }) => fact)).toEqual(["sigma"]);
    const imaginaryOnly = read(
      "10 2 1 0.2\n",
      descriptor({}, { columns: ["frequency", "real", "imaginary", "sigma-imaginary"] }),
    );
    expect([imaginaryOnly.sigmaReal, imaginaryOnly.sigmaImaginary?.[0]]).toEqual([undefined, 0.2]);
  });

  it("takes columns and units from a header, primes included", () => {
    const said = descriptor({ susceptibilityUnit: undefined, frequencyUnit: undefined }, { columns: undefined });
    for (const header of ["f (kHz),chi' (1),chi'' (1)", "frequency (kHz),\u03c7\u2032 (1),\u03c7\u2033 (1)"]) {
      const chi = read(`${header}\n1,2,0.5\n`, said);
      expect([chi.frequency_Hz[0], chi.real[0], chi.imaginary[0]]).toEqual([1000, 2, 0.5]);
    }
  });

  it("asks for the sign of the losses where they are negative on the whole, and turns them", () => {
    const negative = "10 2 -0.5\n100 1 -0.75\n1000 0.5 0.01\n";
    expect(refusal(negative, descriptor())).toMatchObject({ code: "MissingFact", place: { path: "facts.lossSign" } });
    const turned = read(negative, descriptor({ lossSign: stated("negative") }));
    expect([...turned.imaginary]).toEqual([0.5, 0.75, -0.01]);
    expect(turned.findings).toEqual([
      "negative chi'', which no passive sample has (noise, or the zero of the phase?): line 3",
    ]);
    const insisted = read(negative, descriptor({ lossSign: stated("positive") }));
    expect([...insisted.imaginary]).toEqual([-0.5, -0.75, 0.01]);
  });

  it("tells of frequencies that come again or go back", () => {
    expect(read("10 2 1\n100 1 1\n10 2 1\n50 2 1\n", descriptor()).findings).toEqual([
      "a frequency that stands further up already: line 3",
    ]);
    expect(read("100 2 1\n10 1 1\n", descriptor()).findings).toEqual(["frequencies not in rising order: line 2"]);
  });

  it("asks by name for each fact that nobody states", () => {
    for (const fact of Object.keys(facts) as (keyof Facts)[]) {
      const error = refusal(table, descriptor({ [fact]: undefined }));
      expect(error, fact).toMatchObject({ code: "MissingFact", place: { file: "a.txt", path: `facts.${fact}` } });
      expect(error.accepted).toContain(`add "facts.${fact}" to the susceptibility's descriptor, e.g. "${fact}"`);
    }
    const polar = refusal(table, descriptor({}, { columns: ["frequency", "amplitude", "phase"] }));
    expect(polar.place.path).toBe("facts.phaseUnit");
  });

  it.each<[string, string, SusceptibilityDescriptor, string, string]>([
    ["a negative frequency", "10 1 1\n-10 1 1\n", descriptor(), "InvalidFile", "a frequency of -10"],
    ["frequency 0", "0 1 1\n", descriptor(), "InvalidFile", "a frequency of 0"],
    [
      "a standard deviation of 0",
      "1 1 1 0\n",
      descriptor({}, { columns: ["frequency", "real", "imaginary", "sigma"] }),
      "InvalidFile",
      "a standard deviation of 0",
    ],
    ["a moment that is not divided", table, descriptor({ susceptibilityUnit: stated("emu") }), "UnitMismatch", '"emu"'],
    ["a basis against the unit", table, descriptor({ basis: stated("per-iron-mass") }), "UnitMismatch", "in 1 (SI)"],
    [
      "SI against Oe",
      table,
      descriptor({ susceptibilityUnit: stated("emu/cm3/Oe") }),
      "Conflict",
      '"SI" for a susceptibility',
    ],
    [
      "real without imaginary",
      table,
      descriptor({}, { columns: ["frequency", "real", "ignore"] }),
      "MissingFact",
      "imaginary part",
    ],
    [
      "no frequency",
      table,
      descriptor({}, { columns: ["ignore", "real", "imaginary"] }),
      "MissingFact",
      "to be the frequency",
    ],
    [
      "values twice",
      "1 1 1 1\n",
      descriptor({}, { columns: ["frequency", "real", "imaginary", "amplitude"] }),
      "InvalidFile",
      "twice",
    ],
  ])("refuses %s", (_, text, said, code, words) => {
    const error = refusal(text, said);
    expect(error.code).toBe(code);
    expect(error.found).toContain(words);
  });
});

describe("parseSusceptibilityDescriptor", () => {
  it.each([
    ['"0.1 mT"', '"0.1 mm"', "facts.fieldAmplitude.value", "appliedField"],
    ['"1"', '"emu"', "facts.susceptibilityUnit.value", "a moment is divided by the amplitude of H first"],
    ['"SI"', '"si"', "facts.unitSystem.value", '"cgs"'],
    ['"unitSystem"', '"unitsystem"', "facts.unitsystem", '"unitSystem" (nearest)'],
  ])("refuses %s -> %s with its place", (from, to, path, words) => {
    const text = JSON.stringify(descriptor(), null, 2).replace(from, to);
    try {
      parseSusceptibilityDescriptor(text, { file: "d.json" });
    } catch (error) {
      if (!isKnownError(error, "InvalidDocument")) throw error;
      expect(error.place).toMatchObject({ file: "d.json", path, line: expect.any(Number) });
      expect(error.accepted).toContain(words);
      return;
    }
    throw new Error("not refused");
  });
});
