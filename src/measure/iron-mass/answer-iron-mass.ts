import { studentTQuantile } from "../../numerics/index.js";
import type { IronMassAnswer } from "../answer.js";
import { type CalibrationLine, inverseCalibration } from "../calibration/calibration-line.js";
import { type BudgetLine, combine } from "../uncertainty/budget.js";
import { lineInState, type SignalRatio } from "./line-in-state.js";

/** Everything that is known about one region before its answer: kg of Fe as read, not yet calibrated. */
export interface RegionReading {
  readonly region: string;
  readonly scan: string;
  /** Corrected for recovery and spill-over, before calibration. */
  readonly reading_kg: number;
  readonly noise_kg: number;
  readonly noiseDegreesOfFreedom: number;
  /** NaN when it could not be judged. */
  readonly drift_kg: number;
  readonly driftDegreesOfFreedom: number;
  /** Reading's change for one standard deviation of the tracer's width, from this region's own iron, per kg of it. */
  readonly ownWidthPerKg: number;
  /** The same from the other regions' iron, kg. */
  readonly neighbourWidth_kg: number;
  /** The calibration vials' own change per kg, common to the line. */
  readonly calibrationWidthPerKg: number;
  readonly shapePerKg: number;
  readonly contourPerKg: number;
  readonly positionPerKg: number;
  /** Wrong shapes and places of the other regions, kg. */
  readonly neighbours_kg: number;
}

/**
 * The answer for one region: calibrated mass, full and precision-only intervals, critical level and decision.
 *
 *   m = (r − a)/b;  u² = Σ budget;  interval m ± t_{0.975,ν} u
 *   critical level: the same budget for a region that holds nothing, L_C = t_{0.95,ν} u(0)
 *   detection limit: L_D = L_C + t_{0.95,ν} u(L_D), with the budget of a region that holds L_D
 *
 * With `signalRatio`, iron of the object gives r times the vials' signal: the slope is r b, and u(r) is a line of the budget.
 * Contributions in proportion to the mass (its own width, shape, contour, position, stock) vanish for an empty region;
 * noise, drift, the line's intercept and the neighbours stay.
 *
 * Source      JCGM 100:2008 (facts Q1, read (secondary)); critical level: Currie 1968/1995 (facts Q6, from memory)
 */
export function answerIronMass(
  reading: RegionReading,
  vialLine: CalibrationLine,
  { signalRatio }: { signalRatio?: SignalRatio | undefined } = {},
): IronMassAnswer {
  const line = signalRatio === undefined ? vialLine : lineInState(vialLine, signalRatio);
  const { iron_kg: value } = inverseCalibration(line, reading.reading_kg);
  const budgetFor = (value_kg: number) => budgetLines(reading, line, { value_kg, signalRatio });
  const budget = budgetFor(value);
  const total = combine(budget);
  const precision = combine(budget.filter(({ isPrecision }) => isPrecision));
  const empty = combine(budgetFor(0));
  const critical = studentTQuantile(0.95, dof(empty.effectiveDegreesOfFreedom)) * empty.standardUncertainty;
  return {
    question: "iron-mass",
    region: reading.region,
    scan: reading.scan,
    value_kg: value,
    standardUncertainty_kg: total.standardUncertainty,
    interval95_kg: interval(value, total),
    precisionOnly: { standardUncertainty_kg: precision.standardUncertainty, interval95_kg: interval(value, precision) },
    effectiveDegreesOfFreedom: total.effectiveDegreesOfFreedom,
    criticalLevel_kg: critical,
    detectionLimit_kg: detectionLimit(budgetFor, critical),
    decision: decide(value, critical, total.standardUncertainty),
    budget,
    advisories: advisories(reading, line, { value_kg: value, u_kg: total.standardUncertainty }),
  };
}

/**
 * No decision without a critical level (an unknown drift makes it NaN, and nothing is above NaN), nor for a mass that is
 * further below zero than its uncertainty can explain: something is in the scan that the model does not hold.
 */
function decide(value_kg: number, critical_kg: number, u_kg: number): IronMassAnswer["decision"] {
  if (!Number.isFinite(critical_kg) || value_kg < -3 * u_kg) return "withheld";
  return value_kg > critical_kg ? "detected" : "not detected";
}

/** Fixed point of L_D = L_C + t u(L_D); infinite where u grows faster than the mass, so that nothing is ever sure. */
function detectionLimit(budgetFor: (value_kg: number) => BudgetLine[], critical_kg: number): number {
  let limit = 2 * critical_kg;
  for (let round = 0; round < 200; round++) {
    const { standardUncertainty, effectiveDegreesOfFreedom } = combine(budgetFor(limit));
    const next = critical_kg + studentTQuantile(0.95, dof(effectiveDegreesOfFreedom)) * standardUncertainty;
    if (Math.abs(next - limit) <= 1e-9 * limit) return next;
    limit = next;
  }
  return Number.POSITIVE_INFINITY;
}

function budgetLines(
  reading: RegionReading,
  line: CalibrationLine,
  { value_kg, signalRatio }: { value_kg: number; signalRatio: SignalRatio | undefined },
): BudgetLine[] {
  const { slope } = line;
  const mass = Math.abs(value_kg);
  const { lineVariance_kg2, stockVariance_kg2 } = inverseCalibration(line, line.intercept_kg + slope * value_kg);
  const systematic = (name: string, standardUncertainty: number, note: string): BudgetLine => ({
    name,
    type: "B",
    standardUncertainty,
    degreesOfFreedom: Number.POSITIVE_INFINITY,
    note,
    isPrecision: false,
  });
  // One width for all: the vials' change, the region's own and its neighbours' add with their signs.
  const width =
    (value_kg * (reading.ownWidthPerKg - reading.calibrationWidthPerKg) + reading.neighbourWidth_kg) / slope;
  return [
    {
      name: "noise",
      type: "A",
      standardUncertainty: reading.noise_kg / slope,
      degreesOfFreedom: reading.noiseDegreesOfFreedom,
      note: "coil and amplifier, in the scan and in its empties",
      isPrecision: true,
    },
    {
      name: "background drift",
      type: "A",
      standardUncertainty: reading.drift_kg / slope,
      degreesOfFreedom: reading.driftDegreesOfFreedom,
      note: "what interpolation between empties misses",
      isPrecision: true,
    },
    {
      name: "calibration line",
      type: "A",
      standardUncertainty: Math.sqrt(lineVariance_kg2),
      degreesOfFreedom: Number.POSITIVE_INFINITY,
      note: "slope and intercept from the vials",
      isPrecision: false,
    },
    systematic("stock assay", Math.sqrt(stockVariance_kg2), "common to all vials"),
    systematic("tracer width", Math.abs(width), "against the vials', and the neighbours' tails"),
    systematic("shape", mass * reading.shapePerKg, "where in its contour the iron lies"),
    systematic("contour", mass * reading.contourPerKg, "the drawn surface"),
    systematic("position", mass * reading.positionPerKg, "the region against the iron"),
    systematic("neighbours", reading.neighbours_kg / slope, "shape, contour and place of the other regions"),
    ...(signalRatio === undefined
      ? []
      : [
          systematic(
            "tracer state",
            (mass * signalRatio.standardUncertainty) / signalRatio.value,
            "signal per iron where the object was scanned over that of the vials",
          ),
        ]),
  ];
}

function advisories(
  reading: RegionReading,
  line: CalibrationLine,
  { value_kg, u_kg }: { value_kg: number; u_kg: number },
): string[] {
  const list: string[] = [];
  if (value_kg < -3 * u_kg)
    list.push("further below zero than the uncertainty explains: iron outside the regions, or a wrong model; withheld");
  const u_slope = Math.sqrt(line.covariance[2]) / line.slope;
  if (u_slope > 0.1)
    list.push(`the calibration slope is known to ${(100 * u_slope).toFixed(0)} % only: the interval is too narrow`);
  if (value_kg > 1.05 * line.range_kg[1])
    list.push(`above the largest calibration vial (${(line.range_kg[1] * 1e9).toPrecision(3)} ug Fe): extrapolated`);
  if (Number.isNaN(reading.drift_kg)) list.push("fewer than three blocks of empties: drift could not be judged");
  const worst = Math.max(...line.normalisedResiduals.map(Math.abs));
  if (worst > 3) list.push(`a calibration vial lies ${worst.toFixed(1)} sd off the line`);
  return list;
}

function interval(value: number, { standardUncertainty, effectiveDegreesOfFreedom }: ReturnType<typeof combine>) {
  const half = studentTQuantile(0.975, dof(effectiveDegreesOfFreedom)) * standardUncertainty;
  return [value - half, value + half] as const;
}

/** The quantile function wants a finite number; beyond 1e6 Student's t is the normal to every digit shown. */
const dof = (nu: number) => Math.min(1e6, Math.max(1, nu));
