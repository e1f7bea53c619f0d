import { describe, expect, it } from "vitest";
import {
  type Comparison,
  currentMoves,
  expansionErrors,
  gradientComparisons,
  lineComparisons,
  massComparisons,
  randomZeros,
  ringComparison,
  usableComparisons,
} from "./compare.js";

function expectAll(rows: readonly Comparison[], count: number, tolerance: number): void {
  expect(rows.length).toBe(count);
  expect(rows.filter(({ error }) => !(error <= tolerance))).toEqual([]);
}

const of = (rows: readonly Comparison[], quantity: string): Comparison[] =>
  rows.filter((row) => row.quantity === quantity);

describe("gradient errors of a pair of opposed loops against 30 digits", () => {
  // The series is cut after degree 7: the next term is (r/d)^8 of the field, d = 66 mm to the loops: 2e-10 at 4 mm.
  it("zonal expansion from the axis", () => {
    expectAll(expansionErrors(), 3, 1e-9);
  });

  // Order-6 differences at 1/100 of the bore: (0.3 mm/25 mm)^6 and rounding of 1e-16 times 100. Measured 2e-13 and 2e-12.
  it("tensor at the centre, error at seven places", () => {
    const rows = gradientComparisons();
    expectAll(of(rows, "gradient at the centre, relative"), 1, 1e-11);
    expectAll(of(rows, "gradient error, absolute"), 7, 1e-11);
  });

  // Ball and reaches are solved to 1e-6 of the largest that fits.
  it("where 10 % is reached", () => {
    expectAll(of(usableComparisons(), "reach, relative"), 7, 1e-5);
  });

  // 4000 points: their stated uncertainty is 4000^(-2/3).
  it("part of the bore within 10 %", () => {
    expectAll(of(usableComparisons(), "volume fraction, absolute"), 1, 4e-3);
  });

  // Rim of the crossed part of the sphere, 32 rings; the truth itself is counted to some 1e-5. Centroid: a smooth
  // integral; the truth's points leave 1e-8.
  it("iron drawn outside its own ball", () => {
    const rows = massComparisons();
    expectAll(of(rows, "missed share, absolute"), 5, 5e-4);
    expectAll(of(rows, "shift over radius"), 5, 1e-7);
  });
});

describe("field-free places", () => {
  const moves = currentMoves();

  // Newton ends at rounding: 1e-16 of the field over the gradient, 1e-17 m.
  it("of a pair with one current raised", () => {
    expect(moves.length).toBe(4);
    for (const { placeError_m } of moves) expect(placeError_m).toBeLessThan(1e-15);
  });

  // First order carries the error of the gradient; the remainder is of second order: four times less for half the
  // percentage, but for a third order of 1 % of it.
  it("move by G^-1 dB, and the remainder falls with the square", () => {
    for (const { firstOrderError } of moves) expect(firstOrderError).toBeLessThan(1e-11);
    const [one, half, quarter] = moves.map(({ remainder_m }) => remainder_m);
    expect(Math.abs(one / half / 4 - 1)).toBeLessThan(0.01);
    expect(Math.abs(half / quarter / 4 - 1)).toBeLessThan(0.005);
    expect(Math.abs(one)).toBeLessThan(1e-6);
  });

  // Correction across the ring ends at 1e-9 of the bore's radius, quadratically.
  it("may form a ring", () => {
    const ring = ringComparison();
    expect([ring.isClosed, ring.places > 20]).toEqual([true, true]);
    expect(ring.error).toBeLessThan(1e-11);
  });

  it("of four loops form a straight line with the known residual", () => {
    const { comparisons, region } = lineComparisons();
    expect([region.kind, region.lines.length]).toEqual(["line", 1]);
    // Rounding of fields that cancel to 1e-3 of their size.
    expectAll(of(comparisons, "residual over limit"), 5, 1e-12);
    expectAll(of(comparisons, "limit, relative"), 1, 1e-11);
    // Linear interpolation of a steep residual between places 5 mm apart.
    expectAll(of(comparisons, "length, relative"), 1, 1e-3);
    expectAll(of(comparisons, "direction"), 1, 1e-12);
    expectAll(of(comparisons, "straightness over bore"), 1, 1e-12);
  });

  // Cells are 0.3 radius wide: pairs closer than 0.1 may be missed together (3 of 114), zeros apart may not.
  it("of random harmonic fields are all found when a tenth of a radius apart, and no others", () => {
    const zeros = randomZeros();
    expect(zeros.known).toBe(114);
    expect(zeros.knownApart).toBe(110);
    expect(zeros.foundApart).toBe(zeros.knownApart);
    expect(zeros.found).toBeGreaterThanOrEqual(111);
    expect(zeros.more).toBe(0);
    // Places to rounding; residuals against charges' fields of about 1.
    expect(zeros.worstPlace).toBeLessThan(1e-12);
    expect(zeros.worstResidual).toBeLessThan(1e-13);
    expect(zeros.meanEvaluations).toBeLessThan(4000);
  });
});
