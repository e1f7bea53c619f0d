import { describe, expect, it } from "vitest";
import { isKnownError } from "../../errors.js";
import { type HarmonicsDescriptor, harmonicsDescriptorUrn } from "./descriptor.js";
import { parseHarmonicsDescriptor } from "./parse-descriptor.js";
import { readHarmonics } from "./read.js";

type Facts = HarmonicsDescriptor["facts"];
const stated = <T extends string>(value: T) => ({ value, status: "stated" as const, note: "test" });
const facts: Facts = {
  quantity: stated("moment"),
  valueUnit: stated("A.m2"),
  valueMeaning: stated("peak"),
  phaseUnit: stated("deg"),
  phaseConvention: stated("exp(+iwt)"),
  driveWaveform: stated("cosine"),
  driveAmplitude: stated("20 mT"),
  driveAmplitudeMeaning: stated("peak"),
  driveFrequency: stated("25 kHz"),
  biasField: stated("0 mT"),
};
const descriptor = (over: Partial<Facts> = {}, rest: Partial<HarmonicsDescriptor> = {}): HarmonicsDescriptor => ({
  schema: harmonicsDescriptorUrn,
  name: "test",
  columns: ["harmonic", "amplitude", "phase"],
  facts: { ...facts, ...over },
  ...rest,
});
const read = (text: string, said: HarmonicsDescriptor) =>
  readHarmonics(new TextEncoder().encode(text), said, { file: "a.txt", descriptorFile: "d.json" });

function refusal(text: string, said: HarmonicsDescriptor) {
  try {
    read(text, said);
  } catch (error) {
    if (isKnownError(error)) return error;
    throw error;
  }
  throw new Error("not refused");
}

const table = "1 2 -90\n3 1 0\n";

describe("readHarmonics", () => {
  it("reads amplitude and phase as a cos(kwt + phase)", () => {
    const spectrum = read(table, descriptor());
    expect([...spectrum.harmonic]).toEqual([1, 3]);
    for (const [j, value] of [0, -2, 1, 0].entries()) expect(spectrum.moment[j]).toBeCloseTo(value, 14);
    expect(spectrum).toMatchObject({ hasPhase: true, unit: "A.m2", basis: "whole-sample", frequency_Hz: 25e3 });
    expect(spectrum).toMatchObject({ driveAmplitude_T: 0.02, biasField_T: 0, sigma: undefined, medium: undefined });
  });

  it("makes drive amplitudes peak values", () => {
    const amplitude = (meaning: "peak" | "peak-to-peak" | "rms") =>
      read(table, descriptor({ driveAmplitudeMeaning: stated(meaning) })).driveAmplitude_T;
    expect(amplitude("peak-to-peak")).toBe(0.01);
    expect(amplitude("rms")).toBeCloseTo(0.02 * Math.SQRT2, 15);
  });

  it("reads amplitudes alone, with their standard deviations", () => {
    const said = descriptor(
      { quantity: stated("moment-rate"), valueUnit: stated("A.m2/s"), valueMeaning: stated("rms") },
      { columns: ["harmonic", "amplitude", "sigma"] },
    );
    const spectrum = read("1 1 0.1\n3 0.5 0.1\n", said);
    // m = sqrt2 * rate / (k w), w = 2 pi 25 kHz
    const w = 2 * Math.PI * 25e3;
    expect(spectrum.hasPhase).toBe(false);
    expect(spectrum.moment[0] / (Math.SQRT2 / w)).toBeCloseTo(1, 14);
    expect(spectrum.moment[2] / ((Math.SQRT2 * 0.5) / (3 * w))).toBeCloseTo(1, 14);
    expect([spectrum.moment[1], spectrum.moment[3]]).toEqual([0, 0]);
    expect((spectrum.sigma?.[1] ?? 0) / ((Math.SQRT2 * 0.1) / (3 * w))).toBeCloseTo(1, 14);
    expect(spectrum.assumptions).toEqual([]);
  });

  it("takes the voltage of a point moment in a loop: 3.4485 nV at pi 1e-5 T/A is 1.09771e-4 A.m2/s", () => {
    // Loop of 20 mm radius, B/I = mu0 / (2 a), Hoult and Richards 1976 (from memory; worked by hand, five digits)
    const said = descriptor(
      { quantity: stated("voltage"), valueUnit: stated("nV"), receiveSensitivity: stated("31.4159 uT/A") },
      { columns: ["harmonic", "amplitude"] },
    );
    const rate = read("1 3.4485\n", said).moment[0] * 2 * Math.PI * 25e3;
    expect(rate / 1.09771e-4).toBeCloseTo(1, 4);
  });

  it("keeps arbitrary units without asking for a scale, and says so in unit and basis", () => {
    const said = descriptor({
      quantity: stated("voltage"),
      valueUnit: stated("arbitrary"),
      valueMeaning: undefined,
      coilPolarity: stated("normal"),
    });
    const spectrum = read("1 6 0\n3 9 0\n", said);
    expect(spectrum).toMatchObject({ unit: "1", basis: "arbitrary" });
    // -1/(ik) = i/k: the scale is free, the fall with k is not
    for (const [j, value] of [0, 6, 0, 3].entries()) expect(spectrum.moment[j]).toBeCloseTo(value, 14);
  });

  it("reads a moment per mass, and its rate", () => {
    const per = (quantity: "moment" | "moment-rate", unit: string) =>
      read(table, descriptor({ quantity: stated(quantity), valueUnit: stated(unit), basis: stated("per-iron-mass") }));
    expect(per("moment", "emu/g").unit).toBe("A.m2/kg");
    expect(per("moment-rate", "A.m2/kg/s").unit).toBe("A.m2/kg");
    const asked = refusal(table, descriptor({ valueUnit: stated("emu/g") }));
    expect(asked).toMatchObject({ code: "MissingFact", place: { path: "facts.basis" } });
    const wrong = refusal(table, descriptor({ basis: stated("per-iron-mass") }));
    expect(wrong).toMatchObject({ code: "UnitMismatch", place: { file: "d.json", path: "facts.basis.value" } });
  });

  it("takes columns and units from a header in English", () => {
    const said = descriptor(
      { valueUnit: undefined, phaseUnit: undefined, frequencyUnit: undefined },
      { columns: undefined },
    );
    const spectrum = read("frequency (kHz);amplitude (emu);phase (rad);note\n25;1,5;0,5;x\n75;0,5;0;y\n", said);
    expect([...spectrum.harmonic]).toEqual([1, 3]);
    expect(spectrum.moment[0]).toBeCloseTo(1.5e-3 * Math.cos(0.5), 15);
    expect(spectrum.findings[0]).toBe('column 4 ("note") is not used: its name says nothing to us');
  });

  it("carries what was assumed, the liquid, and one standard deviation for both parts", () => {
    const said = descriptor(
      { viscosity: { value: "0.89 mPa.s", status: "assumed", note: "water at 25 degrees" }, medium: stated("water") },
      { columns: ["harmonic", "amplitude", "phase", "sigma"] },
    );
    const spectrum = read("1 2 -10 0.1\n3 1 -30 0.1\n", said);
    expect(spectrum.medium).toEqual({ viscosity_Pa_s: 0.89e-3, name: "water" });
    expect(spectrum.assumptions.map(({ fact }) => fact)).toEqual(["viscosity", "sigma"]);
    expect([...(spectrum.sigma ?? [])]).toEqual([0.1, 0.1]);
  });

  it("asks by name for each fact that nobody states", () => {
    const asked = (fact: keyof Facts, over: Partial<Facts> = {}, rest: Partial<HarmonicsDescriptor> = {}) => {
      const error = refusal(table, descriptor({ ...over, [fact]: undefined }, rest));
      expect(error, fact).toMatchObject({ code: "MissingFact", place: { file: "a.txt", path: `facts.${fact}` } });
      expect(error.accepted).toContain(`add "facts.${fact}" to the spectrum's descriptor, e.g. "${fact}"`);
    };
    for (const fact of Object.keys(facts) as (keyof Facts)[]) asked(fact);
    const voltage = { quantity: stated("voltage"), valueUnit: stated("uV") } as const;
    asked("receiveSensitivity", { ...voltage, coilPolarity: stated("normal") });
    asked("coilPolarity", { ...voltage, receiveSensitivity: stated("31.4 uT/A") });
    asked("frequencyUnit", {}, { columns: ["frequency", "amplitude", "phase"] });
  });

  it.each<[string, string, HarmonicsDescriptor["columns"], string, string]>([
    [
      "no number of the harmonic",
      table,
      ["ignore", "amplitude", "phase"],
      "MissingFact",
      "no column known to be the harmonic",
    ],
    ["no value", table, ["harmonic", "ignore", "phase"], "MissingFact", "no column known to be the amplitude"],
    ["half a value", table, ["harmonic", "real", "ignore"], "MissingFact", "no column known to be the imaginary part"],
    ["values twice", "1 1 1 1\n", ["harmonic", "real", "imaginary", "amplitude"], "InvalidFile", "the values twice"],
    ["harmonic 0", "0 1 0\n1 1 0\n", undefined, "InvalidFile", "harmonic 0"],
    ["half a harmonic", "1 1 0\n2.5 1 0\n", undefined, "InvalidFile", "harmonic 2.5"],
    ["a negative amplitude", "1 1 0\n3 -1 0\n", undefined, "InvalidFile", "an amplitude of -1"],
    ["even harmonics alone", "2 1 0\n", undefined, "InvalidFile", "even harmonics only"],
  ])("refuses %s", (_, text, columns, code, words) => {
    const error = refusal(text, descriptor({}, columns && { columns }));
    expect(error.code).toBe(code);
    expect(error.found).toContain(words);
    expect(error.place.file).toBe("a.txt");
  });

  it("refuses a frequency between harmonics, with line and column", () => {
    const said = descriptor({ frequencyUnit: stated("kHz") }, { columns: ["frequency", "amplitude", "phase"] });
    const error = refusal("25 1 0\n76 1 0\n", said);
    expect(error.place).toMatchObject({ line: 2, column: 1 });
    expect(error.found).toBe("76000 Hz, 3.0400 times the drive's 25000 Hz");
    expect([...read("25.01 1 0\n75.02 1 0\n", said).harmonic]).toEqual([1, 3]); // rounded by the instrument
  });

  it("tells of even harmonics left out, of repeats and of order; keeps even ones in a static field", () => {
    const spectrum = read("3 1 -1\n2 1 0\n1 2 -1\n3 1 -1\n", descriptor());
    expect([...spectrum.harmonic]).toEqual([3, 1, 3]);
    expect(spectrum.findings).toEqual([
      "even harmonics left out (there is no static field): line 2",
      "a harmonic that stands further up already: line 4",
      "harmonics not in rising order: line 3",
    ]);
    const biased = read("1 2 -1\n2 1 0\n", descriptor({ biasField: stated("-5 mT") }));
    expect([...biased.harmonic]).toEqual([1, 2]);
    expect(biased.biasField_T).toBe(-0.005);
  });

  it("tells when the fundamental leads or opposes the drive", () => {
    expect(read("1 1 10\n", descriptor()).findings[0]).toContain("the fundamental leads the drive");
    expect(read("1 1 180\n", descriptor()).findings[0]).toContain("the fundamental opposes the drive");
    expect(read("1 1 -10\n", descriptor()).findings).toEqual([]);
  });
});

describe("parseHarmonicsDescriptor", () => {
  const text = JSON.stringify(descriptor(), null, 2);
  const wrong = (from: string, to: string) => {
    try {
      parseHarmonicsDescriptor(text.replace(from, to), { file: "d.json" });
    } catch (error) {
      if (isKnownError(error, "InvalidDocument")) return error;
      throw error;
    }
    throw new Error("not refused");
  };
  it.each([
    ['"25 kHz"', '"25 kT"', "facts.driveFrequency.value", "frequency"],
    ['"20 mT"', '"20 T"', "facts.driveAmplitude.value", "up to 2 T"],
    ['"deg"', '"mm"', "facts.phaseUnit.value", '"deg" or "rad"'],
    ['"A.m2"', '"kg"', "facts.valueUnit.value", '"emu/g"'],
    ['"exp(+iwt)"', '"+"', "facts.phaseConvention.value", '"exp(-iwt)"'],
    ['"driveWaveform"', '"driveWaveforms"', "facts.driveWaveforms", '"driveWaveform" (nearest)'],
    ['"amplitude"', '"amplitudes"', "columns[1]", '"amplitude"'],
  ])("refuses %s -> %s with its place", (from, to, path, words) => {
    const error = wrong(from, to);
    expect(error.place).toMatchObject({ file: "d.json", path, line: expect.any(Number), column: expect.any(Number) });
    expect(error.accepted).toContain(words);
  });
});
