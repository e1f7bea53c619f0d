import { describe, expect, it } from "vitest";
import { idealScanner, receiveDocument, shippedNames, shippedScanner } from "../../../test/invented-scanners.js";
import { boltzmannConstant_J_per_K } from "../../units/index.js";
import { noiseAt, receiveAnalysis } from "./receive-analysis.js";

const loop = (parts: Readonly<Record<string, unknown>> = {}) => ({
  kind: "loop",
  center: ["0 mm", "0 mm", "0 mm"],
  normal: "z",
  radius: "20 mm",
  turns: 1,
  ...parts,
});
/** A channel by its windings and the parts of its noise. */
const built = (parts: Readonly<Record<string, unknown>> = {}) => {
  const { sensitivity: _, noise: __, ...rest } = receiveDocument();
  const amplifier = { voltageNoise: "0.9 nV/Hz^0.5", currentNoise: "2 pA/Hz^0.5" };
  return { ...rest, windings: [loop()], resistance: "1.2 Ohm", amplifier, ...parts };
};
/** The loop of 20 mm lies inside the bore's coils: a bore of 36 mm. */
const scannerWith = (channel: object, parts: Readonly<Record<string, unknown>> = {}) =>
  idealScanner({ boreDiameter: "36 mm", receive: [channel], subject: { part: "mouse" }, ...parts });

describe("feedthrough", () => {
  it("of 20 mT at 25 kHz in a single loop of 20 mm is 3.948 V (definitions, surprise 11)", () => {
    const [{ feedthrough_V, sensitivity_T_per_A }] = receiveAnalysis(scannerWith(built()));
    // 2 pi f B pi a² for a uniform drive; the quoted figure has four digits.
    expect(feedthrough_V).toBeCloseTo(3.948, 3);
    expect(feedthrough_V).toBeCloseTo(2 * Math.PI * 25e3 * 0.02 * Math.PI * 0.02 ** 2, 12);
    // Facts N13: mu0/(2a).
    expect(sensitivity_T_per_A).toBeCloseTo(3.14159e-5, 9);
  });

  it("falls by what the gradiometer leaves", () => {
    const [whole, left] = [{}, { imbalance: 0.003 }].map(
      (parts) => receiveAnalysis(scannerWith(built(parts)))[0].feedthrough_V ?? 0,
    );
    expect(left / whole).toBeCloseTo(0.003, 12);
  });

  it("of opposed windings is what their geometry leaves, and what tolerances leave of one side on top", () => {
    // Two turns against one of sqrt 2 times the radius: equal areas in a uniform drive.
    const balanced = [loop({ turns: 2 }), loop({ radius: `${20 * Math.SQRT2} mm`, sense: -1 })];
    const side_V = 2 * 2 * Math.PI * 25e3 * 0.02 * Math.PI * 0.02 ** 2;
    const of = (parts: Readonly<Record<string, unknown>>) =>
      receiveAnalysis(scannerWith(built({ windings: balanced, ...parts })))[0];
    expect((of({}).feedthrough_V ?? 1) / side_V).toBeLessThan(1e-12);
    expect((of({ imbalance: 0.003 }).feedthrough_V ?? 0) / side_V).toBeCloseTo(0.003, 12);
    expect(of({}).advisories.join()).toContain("perfectly built gradiometer");
    // One turn less leaves half of the larger side, and that is said.
    const lame = receiveAnalysis(scannerWith(built({ windings: [loop({ turns: 1 }), balanced[1]] })))[0];
    expect((lame.feedthrough_V ?? 0) / side_V).toBeCloseTo(0.5, 12);
    expect(lame.driveImbalance).toBeCloseTo(0.5, 12);
    expect(lame.advisories.join()).toContain("leave 50.0 %");
  });

  it.each(shippedNames)("%s: the receive coil is balanced in the field of its own drive coil", (name) => {
    for (const { driveImbalance } of receiveAnalysis(shippedScanner(name))) expect(driveImbalance).toBeLessThan(1e-4);
  });

  it("is not known without windings", () => {
    const [channel] = receiveAnalysis(idealScanner());
    expect(channel).toMatchObject({ from: "stated", feedthrough_V: null, dynamicRange: null, resonance: null });
    expect(channel.reachWithinTenPercent_m).toBeNull();
  });
});

describe("noise", () => {
  it("that is stated as a total comes back, at every frequency", () => {
    const scanner = idealScanner();
    for (const frequency of [1e3, 75e3, 1e6])
      expect(noiseAt(scanner.receive[0], scanner, frequency)).toEqual({ frequency_Hz: frequency, total: 1e-9 });
  });

  it.each(shippedNames)("%s: the parts add in quadrature", (name) => {
    for (const { noise } of receiveAnalysis(shippedScanner(name))) {
      const { coil = 0, body = 0, amplifierVoltage = 0, amplifierCurrent = 0, quantisation = 0, total } = noise;
      expect(coil).toBeGreaterThan(0);
      expect(Math.hypot(coil, body, amplifierVoltage, amplifierCurrent, quantisation) / total).toBeCloseTo(1, 12);
    }
  });

  it("of coil and amplifier without inductance, capacitance and body is facts N12's", () => {
    const still = { part: "own", being: "animal", radius: "1 mm", conductivity: "0 S/m" };
    const scanner = scannerWith(built(), { subject: still });
    const { total, body } = noiseAt(scanner.receive[0], scanner, 75e3);
    const johnson = 4 * boltzmannConstant_J_per_K * 300 * 1.2;
    expect(body).toBe(0);
    // A stand-in inductance of 1 pH and no digitiser change it by less than a millionth.
    expect(total / Math.sqrt(johnson + 0.9e-9 ** 2 + (2e-12 * 1.2) ** 2)).toBeCloseTo(1, 6);
    const [{ advisories }] = receiveAnalysis(scanner);
    expect(advisories).toEqual([
      "receive z states no inductance: taken as none",
      "receive z states no capacitance: no resonance",
      "receive z states no digitiser: no rounding",
    ]);
  });

  it("a stated total below the thermal noise of the stated resistance is told", () => {
    const [{ advisories }] = receiveAnalysis(
      idealScanner({ receive: [receiveDocument({ noise: "0.01 nV/Hz^0.5", resistance: "1.2 Ohm" })] }),
    );
    expect(advisories[0]).toMatch(
      /^receive z: the stated noise is below the thermal noise of its resistance, 0\.141 nV/,
    );
  });
});

it("sensitivity of a loop falls to nine tenths along its axis where (1 + z²/a²)^-3/2 = 0.9 (facts L1)", () => {
  const [{ reachWithinTenPercent_m }] = receiveAnalysis(scannerWith(built()));
  const reach = 0.02 * Math.sqrt(0.9 ** (-2 / 3) - 1);
  // The reach is found to a share of the bore: micrometres.
  expect(reachWithinTenPercent_m?.[2]).toBeCloseTo(reach, 6);
});

it("a balanced gradiometer has no uniform share, a single coil none to speak of", () => {
  const pair = [loop(), loop({ center: ["0 mm", "0 mm", "60 mm"], sense: -1, turns: 1 })];
  expect(receiveAnalysis(scannerWith(built({ windings: pair })))[0].uniformShare).toBeCloseTo(0, 12);
  expect(receiveAnalysis(scannerWith(built()))[0].uniformShare).toBeNull();
});
