import type { TracerModel } from "../../documents/index.js";
import { FerruleError } from "../../errors.js";
import { ensembleResponse, type ParticleEnsemble, type StaticResponse, scaledSizes } from "../../physics/index.js";

/** The tracer as the physics takes it; `diameterFactor` makes a slightly different one (widths go as its inverse cube). */
export function ensembleOf(tracer: TracerModel, diameterFactor = 1): ParticleEnsemble {
  return {
    sizes: scaledSizes(tracer.core.sizes, diameterFactor),
    saturation_A_per_m: tracer.core.saturation_A_per_m,
    temperature_K: tracer.environment.temperature_K,
  };
}

/** Static response per kg Fe. A relaxing or coupled tracer is refused: this thread's forward model is adiabatic. */
export function responseOf(tracer: TracerModel, diameterFactor = 1): StaticResponse {
  if (tracer.relaxation.kind !== "none")
    throw new FerruleError("InvalidValue", {
      path: "tracer.relaxation",
      found: `relaxation of kind "${tracer.relaxation.kind}"`,
      accepted: '"none", for now: scans and maps use the static response',
    });
  if ((tracer.coupling ?? 0) > 0)
    throw new FerruleError("InvalidValue", {
      path: "tracer.coupling",
      found: `a coupling of ${tracer.coupling}`,
      accepted: "none, for now: scans and maps use the response of independent cores",
    });
  return ensembleResponse(ensembleOf(tracer, diameterFactor), tracer.core.momentPerIron_A_m2_per_kg);
}
