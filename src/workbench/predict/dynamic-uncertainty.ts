import type { TracerModel } from "../../documents/index.js";
import { periodicResponse, type Relaxation, sampleField, sweepResponse } from "../../physics/index.js";
import { ensembleOf } from "../thread/tracer-physics.js";
import type { DriveConditions } from "./drive-conditions.js";

const samples = 1024;

/**
 * Standard uncertainty of the width at the drive, T.
 *   u^2 = (W u(W_static)/W_static)^2 + (dW/dtau u(tau))^2
 * The static part keeps its relative size; that of a stated relaxation time is followed through the model. Viscosity,
 * hydrodynamic size and anisotropy carry no uncertainty in the document: they count as exact, which the reader must judge.
 *
 * @returns `null` where there is no width or no stated uncertainty at all
 * Source      JCGM 100:2008, 5.1 (common practice); the static part's scaling is ours
 */
export function dynamicUncertainty_T(
  tracer: TracerModel,
  drive: DriveConditions,
  {
    width_T,
    staticWidth_T,
    staticUncertainty_T,
  }: { width_T: number | null; staticWidth_T: number | null; staticUncertainty_T: number | null },
): number | null {
  if (width_T === null) return null;
  const sizes =
    staticUncertainty_T === null || staticWidth_T === null ? null : (width_T * staticUncertainty_T) / staticWidth_T;
  const time = timeEffect_T(tracer, drive);
  return sizes === null && time === null ? null : Math.hypot(sizes ?? 0, time ?? 0);
}

/** Change of the width for one standard uncertainty of a stated time. */
function timeEffect_T(tracer: TracerModel, { field }: DriveConditions): number | null {
  const { relaxation } = tracer;
  const u = tracer.standardUncertainties.relaxationTime_s;
  if (u === undefined) return null;
  const width = (by: number): number | undefined => {
    const moved = withTime(relaxation, by);
    if (moved === undefined) return undefined;
    const driven = { ensemble: ensembleOf(tracer), relaxation: moved, coupling: tracer.coupling };
    const { magnetisation } = periodicResponse(field, driven, { samples });
    return sweepResponse(sampleField(field, samples), magnetisation).forward.width_T;
  };
  const [up, down] = [width(u), width(-u)];
  return up === undefined || down === undefined ? null : Math.abs(up - down) / 2;
}

/** The same model with its time moved, never below a hundredth of itself. */
function withTime(relaxation: Relaxation, by: number): Relaxation | undefined {
  const moved = (time: number) => Math.max(time / 100, time + by);
  if (relaxation.kind === "debye") return { ...relaxation, time_s: moved(relaxation.time_s) };
  if (relaxation.kind === "field-dependent")
    return { ...relaxation, zeroFieldTime_s: moved(relaxation.zeroFieldTime_s) };
  return undefined;
}
