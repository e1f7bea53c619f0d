import { describe, expect, it } from "vitest";
import { driveSwing, shiftSwing } from "../drive.js";
import { measuredDeparture } from "./measured-departure.js";
import { squareRootChangeRatio } from "./square-root-law.js";
import {
  readThresholdChange_T,
  thresholdChange_T,
  thresholdRate_T_per_s,
  wholeBodyDefault,
} from "./strength-duration.js";
import { torsoThresholds_T } from "./torso-estimate.js";
import { measuredWholeBody } from "./whole-body-measured.js";

describe("the strength-duration hyperbola", () => {
  it("doubles the rheobase at the chronaxie and tends to it for long rises", () => {
    expect(thresholdRate_T_per_s(0.36e-3, wholeBodyDefault)).toBe(40);
    expect(thresholdRate_T_per_s(1e6, wholeBodyDefault)).toBeCloseTo(20, 6);
  });

  it("as a change of the field tends to rheobase x chronaxie for short ones", () => {
    expect(thresholdChange_T(0, wholeBodyDefault)).toBeCloseTo(7.2e-3, 15);
    const d = 20e-6;
    expect(thresholdChange_T(d, wholeBodyDefault)).toBeCloseTo(d * thresholdRate_T_per_s(d, wholeBodyDefault), 15);
  });

  it("is read in three ways, which agree for straight ramps", () => {
    const ramp = shiftSwing({ axis: "z", amplitude_T: 10e-3, slew_T_per_s: 20 });
    const sine = driveSwing({ axis: "z", amplitude_T: 3e-3, frequency_Hz: 25e3 });
    const readings = ["mean rate", "peak rate, effective duration", "peak rate, whole rise"] as const;
    const of = (swing: typeof ramp) =>
      readings.map((reading) => readThresholdChange_T(swing, wholeBodyDefault, reading));
    expect(new Set(of(ramp).map((value) => value.toPrecision(12))).size).toBe(1);
    const [mean, effective, strictest] = of(sine);
    expect(mean).toBeCloseTo(7.6e-3, 12);
    expect(effective).toBeCloseTo(20 * (1 / (Math.PI * 25e3) + 0.36e-3), 12); // d = 1/(pi f)
    expect(mean / strictest).toBeCloseTo(Math.PI / 2, 12); // the factor 1.57
    expect(strictest).toBeLessThan(effective);
  });
});

describe("measured thresholds", () => {
  it("has y and z, and nothing for x", () => {
    expect(measuredWholeBody("y")).toEqual({ rheobase_T_per_s: 15, chronaxie_s: 0.37e-3 });
    expect(measuredWholeBody("x")).toBeNull();
  });

  it("departs from the hyperbola by 1 at 25 kHz and 1.39 at 88.1 kHz, and says nothing outside", () => {
    expect(measuredDeparture(25e3)).toBe(1);
    expect(measuredDeparture(88.1e3)).toBeCloseTo(1.39, 14);
    expect(measuredDeparture(Math.sqrt(25e3 * 88.1e3))).toBeCloseTo(1.195, 12); // half-way in ln f
    expect([measuredDeparture(24.9e3), measuredDeparture(88.2e3), measuredDeparture(Number.NaN)]).toEqual([
      null,
      null,
      null,
    ]);
  });

  it("torso estimate: 6 to 7 mT pp for short rises, more for long ones", () => {
    expect(torsoThresholds_T(0)).toEqual({ low: 6e-3, high: 7e-3 });
    expect(torsoThresholds_T(20e-6).low).toBeCloseTo(6.3e-3, 15);
  });

  it("the square-root law has a shape and no value: a quarter of the duration, half of the change", () => {
    expect(squareRootChangeRatio(1e-4, 4e-4)).toBe(0.5);
  });
});
