import type { TracerModel } from "../../documents/index.js";
import { staticFieldWidth_T } from "./static-prediction.js";
import { effectsOf, uncertainInputs } from "./uncertain-inputs.js";

/** Standard uncertainty of a width, and what it stands on. */
export interface WidthUncertainty {
  /** k = 1; null where the tracer states no uncertainty. */
  readonly standardUncertainty_T: number | null;
  readonly note: string;
}

/**
 * Uncertainty of the static width from those that the tracer document states.
 *   u^2 = g^T C g over median diameter and log-sd (or the diameter), saturation and coupling;  g by central differences
 * An uncertainty that the document states for the width as a whole is taken as it is: a fit knows all its covariances.
 *
 * Valid for   uncertainties small against the values (first order); saturation and coupling independent of the sizes
 * Source      JCGM 100:2008, 5.2 (common practice)
 */
export function widthUncertainty(tracer: TracerModel): WidthUncertainty {
  const stated = tracer.standardUncertainties;
  if (stated.staticWidth_T !== undefined)
    return { standardUncertainty_T: stated.staticWidth_T, note: "as the tracer document states it" };
  const inputs = uncertainInputs(tracer).filter(({ name }) => name !== "relaxation time");
  if (inputs.length === 0) return { standardUncertainty_T: null, note: "no uncertainty stated" };
  const effects = effectsOf(inputs, (moved) => staticFieldWidth_T(moved) ?? Number.NaN, { fraction: 0.1 });
  const of = (name: string) => effects.find((each) => each.name === name)?.effect ?? 0;
  const crossed = 2 * (stated.medianLogSdCorrelation ?? 0) * of("median diameter") * of("log-sd");
  const variance = effects.reduce((sum, { effect }) => sum + effect * effect, crossed);
  return {
    standardUncertainty_T: Number.isFinite(variance) ? Math.sqrt(Math.max(0, variance)) : null,
    note: `from ${inputs.map(({ name }) => name).join(", ")}`,
  };
}
