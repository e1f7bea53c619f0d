import { describe, expect, it } from "vitest";
import { driveName, driveSwing, dutyOf, shiftSwing } from "./drive.js";

const drive = { axis: "z", amplitude_T: 6e-3, frequency_Hz: 25e3 } as const;

describe("driveSwing", () => {
  it("a sine: 12 mT in 20 us, 600 T/s in the mean, pi/2 of that at its peak", () => {
    const swing = driveSwing(drive);
    expect(swing.change_T).toBe(12e-3);
    expect(swing.duration_s).toBe(20e-6);
    expect(swing.meanRate_T_per_s).toBeCloseTo(600, 10);
    expect(swing.peakRate_T_per_s).toBeCloseTo(2 * Math.PI * 25e3 * 6e-3, 10);
  });

  it("pulses whose edges fill the half period are the sine; straight ramps then are the triangle, 16 A^2 f^2", () => {
    const sine = driveSwing(drive);
    const pulsed = driveSwing({ ...drive, waveform: { kind: "pulsed", riseTime_s: 20e-6 } });
    for (const key of Object.keys(sine) as (keyof typeof sine)[]) expect(pulsed[key] / sine[key]).toBeCloseTo(1, 14);
    const triangle = driveSwing({ ...drive, waveform: { kind: "trapezoid", rampTime_s: 20e-6 } });
    expect(triangle.meanSquareRate_T2_per_s2 / (16 * 6e-3 ** 2 * 25e3 ** 2)).toBeCloseTo(1, 14);
    expect(triangle.peakRate_T_per_s).toBe(triangle.meanRate_T_per_s);
  });

  it("refuses edges longer than half a period, and fields that are none", () => {
    expect(() => driveSwing({ ...drive, waveform: { kind: "trapezoid", rampTime_s: 21e-6 } })).toThrow(
      /at waveform.rampTime_s: found 0.000021 s at 25000 Hz/,
    );
    expect(() => driveSwing({ ...drive, waveform: { kind: "pulsed", riseTime_s: 0 } })).toThrow(/waveform.riseTime_s/);
    expect(() => driveSwing({ ...drive, amplitude_T: -1 })).toThrow(/at amplitude_T: found -1/);
    expect(() => driveSwing({ ...drive, frequency_Hz: Number.NaN })).toThrow(/at frequency_Hz: found NaN/);
  });
});

describe("shiftSwing", () => {
  it("ramps from one peak to the other at its slew", () => {
    expect(shiftSwing({ axis: "y", amplitude_T: 40e-3, slew_T_per_s: 2 })).toEqual({
      change_T: 80e-3,
      duration_s: 40e-3,
      meanRate_T_per_s: 2,
      peakRate_T_per_s: 2,
    });
    expect(() => shiftSwing({ axis: "y", amplitude_T: 40e-3, slew_T_per_s: 0 })).toThrow(/at slew_T_per_s/);
  });
});

it("a drive is on all the time unless it says otherwise", () => {
  expect([dutyOf(drive), dutyOf({ ...drive, duty: 0.2 })]).toEqual([1, 0.2]);
  for (const duty of [0, 1.01, Number.NaN]) expect(() => dutyOf({ ...drive, duty })).toThrow(/at duty/);
});

it("drives of nearly one frequency keep two names", () => {
  expect(driveName(drive)).toBe("drive z at 25 kHz");
  expect(driveName({ ...drive, frequency_Hz: 25000.5 })).toBe("drive z at 25.0005 kHz");
});
