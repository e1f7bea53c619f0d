import type { TracerModel } from "../../documents/index.js";
import { periodicResponse, sampleField, sweepResponse } from "../../physics/index.js";
import type { DriveConditions } from "./drive-conditions.js";
import { drivenTracer } from "./dynamic-prediction.js";
import { effectsOf, uncertainInputs } from "./uncertain-inputs.js";

/** Standard uncertainty of the width at the drive, and what it stands on. */
export interface DynamicUncertainty {
  /** k = 1; null: not known. */
  readonly standardUncertainty_T: number | null;
  readonly note: string;
}

const samples = 1024;
const exactInputs = "viscosity, hydrodynamic size and anisotropy count as exact: judge them yourself";

/**
 * Uncertainty of the width at the drive.
 * Cheap models: each stated input (sizes, saturation, coupling, time) is moved by half its uncertainty to either side and the
 * response computed anew. Fokker-Planck models, and sizes whose parameters are not stated one by one: the static width's
 * relative uncertainty is carried over.
 *
 * Valid for   first order; inputs independent but for median diameter and log-sd
 * Source      JCGM 100:2008, 5.1 and 5.2 (common practice); the carrying over is ours
 */
export function dynamicUncertainty(
  tracer: TracerModel,
  drive: DriveConditions,
  {
    width_T,
    staticWidth_T,
    staticUncertainty_T,
  }: { width_T: number | null; staticWidth_T: number | null; staticUncertainty_T: number | null },
): DynamicUncertainty {
  if (width_T === null) return { standardUncertainty_T: null, note: "no width" };
  const { isCostly } = drivenTracer(tracer);
  const inputs = uncertainInputs(tracer);
  const hasSizes = inputs.some(({ name }) => name === "median diameter" || name === "diameter");
  if (!isCostly && hasSizes) {
    const effects = effectsOf(inputs, (moved) => sweptWidth_T(moved, drive), { fraction: 0.5 });
    return {
      standardUncertainty_T: combined(effects, tracer),
      note: `from ${inputs.map(({ name }) => name).join(", ")}`,
    };
  }
  const scaled =
    staticUncertainty_T === null || staticWidth_T === null ? null : (width_T * staticUncertainty_T) / staticWidth_T;
  const time = inputs.filter(({ name }) => name === "relaxation time");
  const [byTime] = isCostly ? [] : effectsOf(time, (moved) => sweptWidth_T(moved, drive), { fraction: 0.5 });
  const parts = [scaled, byTime?.effect].filter((part) => typeof part === "number");
  return {
    standardUncertainty_T: parts.length === 0 ? null : Math.hypot(...parts),
    note: `the static width's relative uncertainty${byTime === undefined ? "" : " and that of the time"}${isCostly ? `; ${exactInputs}` : ""}`,
  };
}

function sweptWidth_T(tracer: TracerModel, { field }: DriveConditions): number {
  const { magnetisation } = periodicResponse(field, drivenTracer(tracer).driven, { samples });
  return sweepResponse(sampleField(field, samples), magnetisation).forward.width_T ?? Number.NaN;
}

/** Root of the sum of squares, median and log-sd with their correlation; null where a moved input has no width. */
function combined(effects: readonly { name: string; effect: number }[], tracer: TracerModel): number | null {
  const of = (name: string) => effects.find((each) => each.name === name)?.effect ?? 0;
  const correlation = tracer.standardUncertainties.medianLogSdCorrelation ?? 0;
  const crossed = 2 * correlation * of("median diameter") * of("log-sd");
  const variance = effects.reduce((sum, { effect }) => sum + effect * effect, crossed);
  return Number.isFinite(variance) ? Math.sqrt(Math.max(0, variance)) : null;
}
