import type { TracerModel } from "../../documents/index.js";
import { staticFieldWidth_T } from "./static-prediction.js";

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
  const terms = [
    ...sizeTerms(tracer),
    { name: "saturation", u: stated.saturation_A_per_m, moved: (by: number) => withSaturation(tracer, by) },
    { name: "coupling", u: stated.coupling, moved: (by: number) => withCoupling(tracer, by) },
  ].flatMap(({ name, u, moved }) => (u === undefined || u === 0 ? [] : [{ name, u, effect: effectOf(moved, u) }]));
  if (terms.length === 0) return { standardUncertainty_T: null, note: "no uncertainty stated" };
  const of = (name: string) => terms.find((term) => term.name === name)?.effect ?? 0;
  const correlated = 2 * (stated.medianLogSdCorrelation ?? 0) * of("median diameter") * of("log-sd");
  const variance = terms.reduce((sum, { effect }) => sum + effect * effect, correlated);
  return {
    standardUncertainty_T: Number.isFinite(variance) ? Math.sqrt(Math.max(0, variance)) : null,
    note: `from ${terms.map(({ name }) => name).join(", ")}`,
  };
}

function sizeTerms(tracer: TracerModel) {
  const { sizes } = tracer.core;
  const stated = tracer.standardUncertainties;
  const withSizes = (changed: typeof sizes): TracerModel => ({ ...tracer, core: { ...tracer.core, sizes: changed } });
  if (sizes.kind === "single")
    return [
      {
        name: "diameter",
        u: stated.diameter_m,
        moved: (by: number) => withSizes({ ...sizes, diameter_m: sizes.diameter_m + by }),
      },
    ];
  if (sizes.kind !== "lognormal") return [];
  return [
    {
      name: "median diameter",
      u: stated.medianDiameter_m,
      moved: (by: number) => withSizes({ ...sizes, medianDiameter_m: sizes.medianDiameter_m + by }),
    },
    {
      name: "log-sd",
      u: stated.logSd,
      moved: (by: number) => withSizes({ ...sizes, logSd: Math.max(0, sizes.logSd + by) }),
    },
  ];
}

/** Change of the width for one standard uncertainty, from a tenth of it on either side. */
function effectOf(moved: (by: number) => TracerModel, u: number): number {
  const [up, down] = [0.1 * u, -0.1 * u].map((by) => staticFieldWidth_T(moved(by)) ?? Number.NaN);
  return (up - down) / 0.2;
}

function withSaturation(tracer: TracerModel, by: number): TracerModel {
  const saturation_A_per_m = tracer.core.saturation_A_per_m + by;
  return { ...tracer, core: { ...tracer.core, saturation_A_per_m } };
}

function withCoupling(tracer: TracerModel, by: number): TracerModel {
  return { ...tracer, coupling: Math.max(0, (tracer.coupling ?? 0) + by) };
}
