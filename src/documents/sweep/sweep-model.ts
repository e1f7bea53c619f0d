import type { Axis } from "../fields/axis-field.js";
import { type Origin, originAdvisories } from "../fields/origin.js";
import { type SubjectModel, toSubject } from "../scanner/subject-field.js";
import { axisValues, type ParsedSweepAxis } from "./sweep-axis.js";
import type { ParsedSweep } from "./sweep-schema.js";

/** What is varied; every combination. A quantity that is not swept is absent. */
export interface SweepAxes {
  readonly gradient_T_per_m?: readonly number[] | undefined;
  readonly driveAmplitude_T?: readonly number[] | undefined;
  readonly frequency_Hz?: readonly number[] | undefined;
  readonly boreDiameter_m?: readonly number[] | undefined;
}

export interface SweepCase {
  readonly name: string;
  readonly scannerPath: string;
  readonly boreDiameter_m?: number | undefined;
  readonly gradient_T_per_m?: number | undefined;
  readonly driveAmplitude_T?: number | undefined;
  readonly frequency_Hz?: number | undefined;
  readonly subject?: SubjectModel | undefined;
}

export interface Prices {
  readonly currency: string;
  readonly conductorPerKg?: number | undefined;
  readonly magnetPerKg?: number | undefined;
  readonly amplifierPerKVA?: number | undefined;
  readonly coolingPerKW?: number | undefined;
}

export interface SweepModel {
  readonly name: string;
  readonly origin: Origin;
  readonly tracerPath: string;
  readonly scanTime_s: number;
  readonly driveAxis: Axis;
  readonly cases: readonly SweepCase[];
  readonly over: SweepAxes;
  readonly prices?: Prices | undefined;
  readonly advisories: readonly string[];
}

export function toSweepModel(parsed: ParsedSweep): SweepModel {
  const { name, origin, over } = parsed;
  const values = (axis: ParsedSweepAxis | undefined) => (axis === undefined ? undefined : axisValues(axis));
  return {
    name,
    origin,
    tracerPath: parsed.tracer,
    scanTime_s: parsed.scanTime,
    driveAxis: parsed.driveAxis ?? "z",
    cases: parsed.cases.map((each) => ({
      name: each.name,
      scannerPath: each.scanner,
      boreDiameter_m: each.boreDiameter,
      gradient_T_per_m: each.gradient,
      driveAmplitude_T: each.driveAmplitude,
      frequency_Hz: each.frequency,
      subject: each.subject && toSubject(each.subject),
    })),
    over: {
      gradient_T_per_m: values(over.gradient),
      driveAmplitude_T: values(over.driveAmplitude),
      frequency_Hz: values(over.frequency),
      boreDiameter_m: values(over.boreDiameter),
    },
    prices: parsed.prices,
    advisories: originAdvisories(`sweep ${name}`, origin),
  };
}
