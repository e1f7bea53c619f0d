import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { vacuumPermeability_T_m_per_A as mu0 } from "../../../units/index.js";
import { parseDocument } from "../../parse-document.js";
import { checkExecutable } from "../check-executable.js";

type Tree = { [key: string]: Tree };

const read = (name: string) =>
  JSON.parse(readFileSync(new URL(`../../fixtures/${name}.json`, import.meta.url), "utf8")) as Tree;
const ideal = read("scanner");
const ofCoils = read("scanner-of-coils");
const raster = read("protocol");

type Edits = Readonly<Record<string, unknown>>;

function edited(document: Tree, edits: Edits): string {
  const copy = structuredClone(document);
  for (const [path, value] of Object.entries(edits)) {
    const keys = path.split(".");
    const parent = keys.slice(0, -1).reduce((at, key) => at[key], copy);
    if (value === undefined) delete parent[keys[keys.length - 1]];
    else parent[keys[keys.length - 1]] = value as Tree;
  }
  return JSON.stringify(copy);
}

function check(scanner: Tree, { scanner: ofScanner = {}, protocol = {} }: { scanner?: Edits; protocol?: Edits } = {}) {
  return checkExecutable(
    parseDocument(edited(scanner, ofScanner), { family: "scanner" }).model,
    parseDocument(edited(raster, protocol), { family: "protocol" }).model,
  );
}

/** First number in a message: it must agree with the hand calculation to the six digits that are shown. */
const numberIn = (text: string, before: RegExp) => Number(before.exec(text)?.[1]);
const sixDigits = 5e-6;

// Drive: one layer of 60 turns, R = 40 mm, L = 120 mm (facts L7); 0.25 Ohm and 150 uH are stated; 25 kHz.
const drivePerAmpere = (mu0 * 60) / Math.hypot(0.12, 0.08);
// Shift x: a Helmholtz pair, 50 turns each, R = 60 mm (facts L4); 0.5 Ohm and 2 mH are stated.
const shiftPerAmpere = (0.8 ** 1.5 * mu0 * 50) / 0.06;
// Selection: a Maxwell pair, 1e4 A turns, a = 0.1 m (facts L5, L6): across half the gradient.
const across_T_per_m = ((48 / 49) * Math.sqrt(3 / 7) * mu0 * 1e4) / 0.01 / 2;

describe("drive coil and its amplifier", () => {
  const current_A = 0.01 / drivePerAmpere;
  const reactance = 2 * Math.PI * 25e3 * 150e-6;
  const demand = {
    maximumCurrent: { value: current_A, unit: "A", words: "a peak current of" },
    maximumVoltage: { value: current_A * Math.hypot(0.25, reactance), unit: "V", words: "a peak voltage of" },
    maximumPower: { value: (0.25 * current_A ** 2) / 2, unit: "W", words: "a power of" },
  };
  const protocol = { "drive.amplitude": "10 mT" };
  const withCoil = (edits: Edits) =>
    check(ofCoils, {
      protocol,
      scanner: Object.fromEntries(Object.entries(edits).map(([key, value]) => [`driveAxes.0.coil.${key}`, value])),
    });

  it.each(Object.entries(demand))("%s", (name, { value, unit, words }) => {
    expect(withCoil({ supply: { [name]: `${value * 1.00001} ${unit}` } })).toEqual([]);
    const problems = withCoil({ supply: { [name]: `${value * 0.999} ${unit}` } });
    expect(problems).toMatchObject([{ code: "NotExecutable", path: "drive.amplitude" }]);
    const said = numberIn(problems[0].found, new RegExp(`^${words} ([\\d.]+) ${unit} in drive coil z$`));
    expect(Math.abs(said / value - 1)).toBeLessThan(sixDigits);
    const allowed = numberIn(problems[0].accepted, new RegExp(`^at most ([\\d.]+) ${unit}$`));
    expect(Math.abs(allowed / (value * 0.999) - 1)).toBeLessThan(sixDigits);
  });

  it("a tuned coil asks R I of its amplifier, not the voltage of the winding", () => {
    const held_V = 0.25 * current_A;
    expect(withCoil({ isResonant: true, supply: { maximumVoltage: `${held_V * 1.00001} V` } })).toEqual([]);
    expect(withCoil({ isResonant: true, supply: { maximumVoltage: `${held_V * 0.999} V` } })).toHaveLength(1);
  });

  it("heat counts the duty, power does not", () => {
    const heat_W = (0.25 * current_A ** 2) / 2;
    const cooling = `${heat_W * 0.6} W`;
    expect(withCoil({ cooling })).toMatchObject([
      { path: "drive.amplitude", accepted: expect.stringMatching(/^at most/) },
    ]);
    const half = { duty: "50 %", "driveAxes.0.coil.cooling": cooling };
    expect(check(ofCoils, { protocol, scanner: half })).toEqual([]);
    const supply = { duty: "50 %", "driveAxes.0.coil.supply": { maximumPower: cooling } };
    expect(check(ofCoils, { protocol, scanner: supply })).toHaveLength(1);
  });

  it("power goes as the square of the amplitude", () => {
    const limit = { supply: { maximumPower: "1 nW" } };
    const power = (amplitude: string) => {
      const [{ found }] = check(ofCoils, {
        protocol: { "drive.amplitude": amplitude },
        scanner: { "driveAxes.0.coil.supply": limit.supply },
      });
      return numberIn(found, /([\d.]+) W/);
    };
    expect(power("20 mT") / power("10 mT")).toBeCloseTo(4, 4); // six digits each
  });

  it("does not judge what is not stated", () => {
    const nothing = { resistance: undefined, inductance: undefined };
    const tight = { maximumVoltage: "1 nV", maximumPower: "1 nW" };
    expect(withCoil({ ...nothing, supply: tight, cooling: "1 nW" })).toEqual([]);
    expect(withCoil({})).toEqual([]);
  });

  it("refuses pulses and trapezoids for a protocol of sines", () => {
    const waveform = { kind: "pulsed", riseTime: "2 us" };
    expect(check(ideal, { scanner: { "driveAxes.0.waveform": waveform } })).toEqual([
      {
        code: "NotExecutable",
        path: "drive.waveform",
        found: '"cosine" on drive axis z, which makes pulses',
        accepted: "a drive axis with a sinusoidal waveform",
      },
    ]);
    const trapezoid = { kind: "trapezoid", rampTime: "2 us" };
    expect(check(ideal, { scanner: { "driveAxes.0.waveform": trapezoid } })[0].found).toContain("trapezoids");
    expect(check(ideal, { scanner: { "driveAxes.0.waveform": { kind: "sine" } } })).toEqual([]);
  });
});

describe("shift coil and its supply", () => {
  // 21 positions from -10 mm to 10 mm, 1 mm apart: mean square 770/21 mm2.
  const current_A = (across_T_per_m * 0.01) / shiftPerAmpere;
  const meanSquare_A2 = ((across_T_per_m / shiftPerAmpere) ** 2 * 770e-6) / 21;
  const rate_A_per_s = (across_T_per_m * 0.001) / shiftPerAmpere / 2e-3;
  const demand = {
    maximumCurrent: { value: current_A, unit: "A", words: "a current of" },
    maximumVoltage: { value: 2e-3 * rate_A_per_s + 0.5 * current_A, unit: "V", words: "a voltage of" },
    maximumPower: { value: 0.5 * meanSquare_A2, unit: "W", words: "a mean power of" },
  };
  const withCoil = (edits: Edits, protocol: Edits = {}) =>
    check(ofCoils, {
      protocol,
      scanner: Object.fromEntries(Object.entries(edits).map(([key, value]) => [`shiftFields.0.coil.${key}`, value])),
    });

  it.each(Object.entries(demand))("%s", (name, { value, unit, words }) => {
    expect(withCoil({ supply: { [name]: `${value * 1.0001} ${unit}` } })).toEqual([]);
    const problems = withCoil({ supply: { [name]: `${value * 0.999} ${unit}` } });
    expect(problems).toMatchObject([{ code: "NotExecutable", path: "raster.axes.x" }]);
    const said = numberIn(problems[0].found, new RegExp(`^${words} ([\\d.]+) ${unit} in shift coil x$`));
    expect(Math.abs(said / value - 1)).toBeLessThan(sixDigits);
  });

  it("cooling", () => {
    expect(withCoil({ cooling: `${0.5 * meanSquare_A2 * 1.0001} W` })).toEqual([]);
    const [{ found }] = withCoil({ cooling: `${0.5 * meanSquare_A2 * 0.999} W` });
    expect(Math.abs(numberIn(found, /^a mean heat of ([\d.]+) W/) / (0.5 * meanSquare_A2) - 1)).toBeLessThan(sixDigits);
  });

  it("a step without time asks a voltage without limit: says the time that its voltage allows", () => {
    const supply = { maximumVoltage: "20 V" };
    const problems = withCoil({ supply }, { settleTime: undefined });
    expect(problems).toMatchObject([{ path: "settleTime", accepted: expect.stringMatching(/within 20 V$/) }]);
    // L dI/dt = 20 V - R I, the step of 1 mm.
    const least_s = (2e-3 * across_T_per_m * 0.001) / shiftPerAmpere / (20 - 0.5 * current_A);
    expect(Math.abs(numberIn(problems[0].accepted, /^at least (\S+) s/) / least_s - 1)).toBeLessThan(sixDigits);
    expect(withCoil({ supply }, { settleTime: `${least_s * 1.0001} s` })).toEqual([]);
    expect(withCoil({ supply, inductance: undefined }, { settleTime: undefined })).toEqual([]);
  });

  it("of resistance and inductance one alone is a lower bound", () => {
    const held = { maximumVoltage: `${0.5 * current_A * 0.999} V` };
    expect(withCoil({ supply: held, inductance: undefined })).toHaveLength(1);
    const ramp = { maximumVoltage: `${2e-3 * rate_A_per_s * 0.999} V` };
    expect(withCoil({ supply: ramp, resistance: undefined })).toHaveLength(1);
    expect(withCoil({ supply: ramp, resistance: undefined, inductance: undefined })).toEqual([]);
  });

  it("tells the range alone when it does not suffice", () => {
    const scanner = { "shiftFields.0.range": "1 mT", "shiftFields.0.coil.supply": { maximumCurrent: "1 mA" } };
    expect(check(ofCoils, { scanner })).toMatchObject([
      { path: "raster.axes.x", accepted: expect.stringContaining("at most 1 mT on") },
    ]);
  });
});
