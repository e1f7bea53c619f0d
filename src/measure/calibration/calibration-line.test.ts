import { describe, expect, it } from "vitest";
import { isKnownError } from "../../errors.js";
import { chiSquareQuantile, stream } from "../../numerics/index.js";
import { type CalibrationPoint, calibrationLine, inverseCalibration } from "./calibration-line.js";

const microgram = 1e-9;
const masses = [2, 5, 10, 20, 40];
const vial = (iron: number, reading: number, { uIron = 0.01 * iron, uReading = 0.1 } = {}): CalibrationPoint => ({
  label: `${iron} ug`,
  iron_kg: iron * microgram,
  ironUncertainty_kg: uIron * microgram,
  reading_kg: reading * microgram,
  readingUncertainty_kg: uReading * microgram,
});
const exactLine = (scale = 1) =>
  calibrationLine(
    masses.map((m) => vial(m * scale, 0.3 + 0.9 * m)),
    { stockRelativeUncertainty: 0.02 },
  );

describe("calibration line", () => {
  it("goes through readings that lie on a line, and reads them back", () => {
    const line = exactLine();
    expect(line.slope).toBeCloseTo(0.9, 12);
    expect(line.intercept_kg / microgram).toBeCloseTo(0.3, 10);
    expect(line.chiSquared).toBeLessThan(1e-15);
    expect(line.range_kg).toEqual([2e-9, 4e-8]);
    for (const m of masses)
      expect(inverseCalibration(line, (0.3 + 0.9 * m) * microgram).iron_kg / microgram).toBeCloseTo(m, 9);
  });

  it("weighs by the effective variance u_r² + b² u_m², so the vial known best pulls the most", () => {
    const poor = vial(40, 50, { uIron: 8, uReading: 0.1 });
    const line = calibrationLine([...masses.slice(0, 4).map((m) => vial(m, m)), poor], { stockRelativeUncertainty: 0 });
    expect(line.slope).toBeCloseTo(1, 2);
    // 10 ug off, known to 8 ug: 1.2 sd; the vial is judged against its own uncertainty.
    expect(line.normalisedResiduals[4]).toBeCloseTo(10 / 8, 1);
  });

  it("does not depend on the scale of the readings", () => {
    const plain = exactLine();
    const loud = calibrationLine(
      masses.map((m) => vial(m, 1000 * (0.3 + 0.9 * m), { uReading: 100 })),
      { stockRelativeUncertainty: 0.02 },
    );
    expect(loud.slope / plain.slope).toBeCloseTo(1000, 8);
    expect(loud.covariance[2] / plain.covariance[2]).toBeCloseTo(1e6, 3);
    const [a, b] = [inverseCalibration(plain, 5e-9), inverseCalibration(loud, 5e-6)];
    expect(b.iron_kg / a.iron_kg).toBeCloseTo(1, 10);
    expect(b.lineVariance_kg2 / a.lineVariance_kg2).toBeCloseTo(1, 8);
  });

  it("claims the scatter it has: slope and intercept over 400 redrawn calibrations (exact χ², 1e-3 over three)", () => {
    const squares = [0, 0, 0];
    for (let replica = 0; replica < 400; replica++) {
      const random = stream(6, 0, replica);
      const points = masses.map((m) => {
        const known = m; // the label; what the vial holds differs by its pipetting
        const held = m * (1 + 0.01 * random.normal());
        return vial(known, 0.3 + 0.9 * held + 0.1 * random.normal());
      });
      const line = calibrationLine(points, { stockRelativeUncertainty: 0 });
      squares[0] += (line.slope - 0.9) ** 2 / line.covariance[2];
      squares[1] += (line.intercept_kg - 0.3e-9) ** 2 / line.covariance[0];
      const { iron_kg, lineVariance_kg2 } = inverseCalibration(line, (0.3 + 0.9 * 15) * microgram);
      squares[2] += (iron_kg - 15e-9) ** 2 / lineVariance_kg2;
    }
    for (const square of squares) {
      expect(square).toBeGreaterThan(chiSquareQuantile(1e-3 / 6, 400));
      expect(square).toBeLessThan(chiSquareQuantile(1 - 1e-3 / 6, 400));
    }
  });
});

describe("stock assay", () => {
  it("is common to all vials: a stock 2 % stronger moves every answer by 2 %, and no residual tells", () => {
    const [right, wrong] = [exactLine(), exactLine(1.02)];
    for (const reading_kg of [1e-9, 9e-9, 30e-9]) {
      const [a, b] = [inverseCalibration(right, reading_kg), inverseCalibration(wrong, reading_kg)];
      expect(b.iron_kg / a.iron_kg).toBeCloseTo(1.02, 10);
      expect(Math.sqrt(a.stockVariance_kg2)).toBeCloseTo(0.02 * a.iron_kg, 18);
    }
    expect(wrong.chiSquared).toBeLessThan(1e-15);
  });
});

it("says when it extrapolates: above the largest vial (5 % allowed) or below nothing", () => {
  const line = exactLine();
  const at = (m: number) => inverseCalibration(line, (0.3 + 0.9 * m) * microgram).isExtrapolated;
  expect([at(-0.1), at(0.5), at(40), at(41.9), at(42.1)]).toEqual([true, false, false, false, true]);
});

describe("refusals", () => {
  const refused = (points: readonly CalibrationPoint[]) => {
    try {
      calibrationLine(points, { stockRelativeUncertainty: 0.02 });
    } catch (error) {
      return error;
    }
    return undefined;
  };
  it.each<[string, CalibrationPoint[]]>([
    ["two vials: a line without a check of it", [vial(1, 1), vial(2, 2)]],
    ["one mass three times", [vial(1, 1), vial(1, 1.1), vial(1, 0.9)]],
    ["readings that fall with the iron", [vial(1, 3), vial(2, 2), vial(3, 1)]],
  ])("%s", (_, points) => {
    const error = refused(points);
    if (!isKnownError(error, "NotIdentifiable")) throw error ?? new Error("accepted");
    expect(error.place.path).toBe("calibration.vials");
  });
  it.each<[string, CalibrationPoint]>([
    ["no uncertainty at all", vial(3, 3, { uIron: 0, uReading: 0 })],
    ["a reading that is no number", vial(3, Number.NaN)],
  ])("a vial with %s", (_, bad) => {
    expect(isKnownError(refused([vial(1, 1), vial(2, 2), bad]), "InvalidValue")).toBe(true);
  });
});
