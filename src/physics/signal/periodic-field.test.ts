import { describe, expect, it } from "vitest";
import { cosineDrive, pulsedDrive, sampleField, sineDrive, triangleDrive } from "./periodic-field.js";

const f = 25e3;
const at = (drive: { period_s: number; field_T: (t: number) => number }, phase: number) =>
  drive.field_T(phase * drive.period_s);

describe("drives", () => {
  it("cosine and sine are a quarter period apart, amplitudes are peaks, bias adds", () => {
    expect(at(cosineDrive(0.02, f), 0)).toBe(0.02);
    expect(at(sineDrive(0.02, f), 0.25)).toBeCloseTo(0.02, 15);
    expect(at(sineDrive(0.02, f), 0.6)).toBeCloseTo(at(cosineDrive(0.02, f), 0.35), 12);
    expect(at(cosineDrive(0.02, f, { bias_T: 0.005 }), 0.5)).toBeCloseTo(-0.015, 15);
  });

  it("a triangle runs from peak to peak at 4 A f, period after period", () => {
    const drive = triangleDrive(0.02, f);
    expect([0, 0.25, 0.5, 0.75, 1].map((phase) => at(drive, phase))).toEqual(
      [0.02, 0, -0.02, 0, 0.02].map((value) => expect.closeTo(value, 12)),
    );
    const rate = (at(drive, 0.3) - at(drive, 0.2)) / (0.1 / f);
    expect(rate).toBeCloseTo(-4 * 0.02 * f, 6);
  });

  it("pulses stay on their plateaus between edges of the stated length", () => {
    const drive = pulsedDrive(0.02, f, { riseTime_s: 0.1 / f });
    for (const phase of [0, 0.1, 0.199, 0.801, 1.1]) expect(at(drive, phase)).toBe(0.02);
    for (const phase of [0.301, 0.5, 0.699]) expect(at(drive, phase)).toBe(-0.02);
    expect(at(drive, 0.25)).toBeCloseTo(0, 12);
    // Half a sine over the edge: steepest rate pi A / riseTime.
    const rate = (at(drive, 0.2501) - at(drive, 0.2499)) / (0.0002 / f);
    expect(rate / ((-Math.PI * 0.02) / (0.1 / f))).toBeCloseTo(1, 4);
  });

  it("are sampled at even times of one period", () => {
    const values = sampleField(cosineDrive(1, f), 8);
    expect(values.length).toBe(8);
    expect(values[2]).toBeCloseTo(0, 12);
    expect(values[4]).toBeCloseTo(-1, 12);
  });

  it("refuse what is no drive", () => {
    expect(() => cosineDrive(0, f)).toThrow(/amplitude_T/);
    expect(() => cosineDrive(0.02, Number.NaN)).toThrow(/frequency_Hz/);
    expect(() => pulsedDrive(0.02, f, { riseTime_s: 0 })).toThrow(/riseTime_s/);
    expect(() => pulsedDrive(0.02, f, { riseTime_s: 1 })).toThrow(/half a period/);
  });
});
