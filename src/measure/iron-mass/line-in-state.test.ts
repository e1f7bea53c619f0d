import { describe, expect, it } from "vitest";
import { calibrationLine, inverseCalibration } from "../calibration/calibration-line.js";
import { answerIronMass, type RegionReading } from "./answer-iron-mass.js";
import { lineInState } from "./line-in-state.js";

const ug = 1e-9;
const line = calibrationLine(
  [2, 5, 10, 20].map((mass, i) => ({
    label: `vial ${i + 1}`,
    iron_kg: mass * ug,
    ironUncertainty_kg: 0.02 * mass * ug,
    reading_kg: (0.1 + 0.9 * mass) * ug,
    readingUncertainty_kg: 0.05 * ug,
  })),
  { stockRelativeUncertainty: 0.02 },
);

const reading: RegionReading = {
  region: "A",
  scan: "one",
  reading_kg: (0.1 + 0.9 * 0.8 * 6) * ug,
  noise_kg: 0.05 * ug,
  noiseDegreesOfFreedom: 100,
  drift_kg: 0.01 * ug,
  driftDegreesOfFreedom: 10,
  ownWidthPerKg: 0,
  neighbourWidth_kg: 0,
  calibrationWidthPerKg: 0,
  shapePerKg: 0,
  contourPerKg: 0,
  positionPerKg: 0,
  neighbours_kg: 0,
};

describe("a calibration used in another state", () => {
  const signalRatio = { value: 0.8, standardUncertainty: 0.04 };

  it("6 ug that give 0.8 of the vials' signal are read as 6 ug, not as 4.8", () => {
    expect(answerIronMass(reading, line).value_kg / ug).toBeCloseTo(4.8, 9);
    expect(answerIronMass(reading, line, { signalRatio }).value_kg / ug).toBeCloseTo(6, 9);
  });

  it("puts the ratio's 5 % into the budget, in proportion to the mass", () => {
    const { budget, standardUncertainty_kg: u } = answerIronMass(reading, line, { signalRatio });
    const state = budget.find(({ name }) => name === "tracer state");
    expect((state?.standardUncertainty ?? 0) / ug).toBeCloseTo(0.3, 9);
    const without = answerIronMass(reading, line, { signalRatio: { value: 0.8, standardUncertainty: 0 } });
    expect(u ** 2 - without.standardUncertainty_kg ** 2).toBeCloseTo((0.3 * ug) ** 2, 22);
    expect(answerIronMass(reading, line).budget.some(({ name }) => name === "tracer state")).toBe(false);
  });

  it("moves slope, covariance and range together, so that both ways invert alike", () => {
    const moved = lineInState(line, signalRatio);
    const [a, b] = [inverseCalibration(line, reading.reading_kg), inverseCalibration(moved, reading.reading_kg)];
    expect(b.iron_kg / a.iron_kg).toBeCloseTo(1 / 0.8, 12);
    expect(b.lineVariance_kg2 / a.lineVariance_kg2).toBeCloseTo(1 / 0.64, 9);
    expect(moved.range_kg[1] / ug).toBeCloseTo(25, 12);
  });
});
