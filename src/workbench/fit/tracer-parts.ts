import type { TracerDocument } from "../../documents/index.js";
import { sizesOfFit, type TracerFit } from "../../measure/index.js";
import type { MeasuredFacts } from "./measured-facts.js";
import { widthUncertaintyOfFit_T } from "./width-of-fit.js";

type Sizes = TracerDocument["core"]["sizes"];
type Relaxation = TracerDocument["relaxation"];

const named = (fit: TracerFit, name: string) => fit.parameters.find((parameter) => parameter.name === name);
const nm = (value_m: number): string => `${value_m * 1e9} nm`;

/** Core sizes as the document writes them. */
export function sizesDocument(fit: TracerFit): Sizes {
  const model = fit.model === "log-normal-mixture" || fit.model === "free-form" ? fit.model : "log-normal-langevin";
  const sizes = sizesOfFit({ ...fit, model });
  switch (sizes.kind) {
    case "single":
      return { kind: "single", diameter: nm(sizes.diameter_m) };
    case "lognormal": {
      const { weighting, medianDiameter_m, logSd } = sizes;
      return logSd === 0
        ? { kind: "single", diameter: nm(medianDiameter_m) }
        : { kind: "lognormal", weighting, medianDiameter: nm(medianDiameter_m), logSd };
    }
    case "mixture":
      return {
        kind: "mixture",
        weighting: sizes.weighting,
        populations: sizes.populations.map(({ share, medianDiameter_m, logSd }) => ({
          share,
          medianDiameter: nm(medianDiameter_m),
          logSd,
        })),
      };
    case "table": {
      const { weighting, diameter_m, share } = sizes;
      return {
        kind: "table",
        weighting,
        diameters: Array.from(diameter_m, nm),
        shares: Array.from(share),
      };
    }
  }
}

/** What the data say about relaxation: nothing for a static curve. */
export function relaxationOfFit(fit: TracerFit, { viscosity_Pa_s }: MeasuredFacts): Relaxation {
  const time = named(fit, "relaxation-time");
  if (time !== undefined) return { kind: "debye", time: `${time.value} s` };
  const median = named(fit, "median-hydrodynamic-diameter");
  if (median === undefined || viscosity_Pa_s === undefined) return { kind: "none" };
  const spread = fit.parameters.find(({ name }) => name.startsWith("log-sd-hydrodynamic"));
  return {
    kind: "brownian",
    viscosity: `${viscosity_Pa_s} Pa.s`,
    hydrodynamicDiameter: nm(median.value),
    ...(spread === undefined ? {} : { hydrodynamicLogSd: spread.value }),
  };
}

/** A coupling of 0 is none. */
export function couplingOfFit(fit: TracerFit): number | undefined {
  const value = named(fit, "coupling")?.value;
  return value === undefined || value === 0 ? undefined : value;
}

/** Standard uncertainties, that of the width through the whole covariance; nothing where the fit has none. */
export function uncertaintiesDocument(fit: TracerFit, facts: MeasuredFacts): TracerDocument["uncertainties"] {
  const sizes = sizesDocument(fit);
  const { coreSaturation_A_per_m: saturation_A_per_m, temperature_K } = facts;
  const width =
    saturation_A_per_m === undefined || temperature_K === undefined
      ? undefined
      : widthUncertaintyOfFit_T(fit, { saturation_A_per_m, temperature_K });
  // What the model misses widens what a tracer is believed to be.
  const { scale } = fit.withInadequacy;
  const of = (name: string) => {
    const u = named(fit, name)?.standardUncertainty;
    return u !== undefined && Number.isFinite(u) ? scale * u : undefined;
  };
  const [median, logSd, time, coupling] = ["median-diameter", "log-sd", "relaxation-time", "coupling"].map(of);
  const hasPair = sizes.kind === "lognormal" && median !== undefined && logSd !== undefined;
  const parts = {
    ...(hasPair
      ? {
          medianDiameter: nm(median),
          logSd,
          medianLogSdCorrelation: correlationOf(fit, "median-diameter", "log-sd"),
        }
      : {}),
    ...(sizes.kind === "single" && median !== undefined ? { diameter: nm(median) } : {}),
    ...(width === undefined ? {} : { staticWidth: `${scale * width} T` }),
    ...(time === undefined ? {} : { relaxationTime: `${time} s` }),
    ...(coupling === undefined || couplingOfFit(fit) === undefined ? {} : { coupling }),
  };
  return Object.keys(parts).length === 0 ? undefined : parts;
}

function correlationOf(fit: TracerFit, a: string, b: string): number {
  const [i, j] = [a, b].map((name) => fit.parameters.findIndex((candidate) => candidate.name === name));
  return Math.max(-1, Math.min(1, fit.correlation[i * fit.parameters.length + j]));
}
