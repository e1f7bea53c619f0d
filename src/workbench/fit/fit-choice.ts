import { FerruleError } from "../../errors.js";
import type { Measurement } from "../../formats/index.js";

/** Models of a magnetisation curve, as people name them. */
export const curveModelNames = ["log-normal", "mixture", "mixture-3", "free-form", "chain", "chain-single"] as const;
export type CurveModelName = (typeof curveModelNames)[number];

/** Relaxation of spectra and susceptibilities. */
export const relaxationNames = ["none", "debye", "brownian"] as const;
export type RelaxationName = (typeof relaxationNames)[number];

export interface FitChoice {
  /** Of a magnetisation curve; default log-normal. */
  readonly model?: string | undefined;
  /** Of a spectrum or susceptibility; default: debye, and none for a spectrum without phases. */
  readonly relaxation?: string | undefined;
}

export function curveModelOf({ model = "log-normal" }: FitChoice): CurveModelName {
  const found = curveModelNames.find((name) => name === model);
  if (found !== undefined) return found;
  throw new FerruleError("UnknownName", {
    path: "--model",
    found: `"${model}"`,
    accepted: `one of ${curveModelNames.join(", ")}`,
  });
}

export function relaxationOf(measurement: Measurement, { relaxation }: FitChoice): RelaxationName {
  if (relaxation === undefined)
    return measurement.kind === "harmonics" && !measurement.spectrum.hasPhase ? "none" : "debye";
  const found = relaxationNames.find((name) => name === relaxation);
  if (found === undefined)
    throw new FerruleError("UnknownName", {
      path: "--relaxation",
      found: `"${relaxation}"`,
      accepted: `one of ${relaxationNames.join(", ")}`,
    });
  if (found === "none" && measurement.kind === "susceptibility")
    throw new FerruleError("InvalidValue", {
      path: "--relaxation",
      found: '"none" for a susceptibility over frequency, which shows nothing but relaxation',
      accepted: "debye or brownian",
    });
  return found;
}

/** An option that has no effect is a misunderstanding. */
export function refuseIdleOptions(kinds: readonly Measurement["kind"][], { model, relaxation }: FitChoice): void {
  if (model !== undefined && !kinds.includes("curve"))
    throw new FerruleError("InvalidValue", {
      path: "--model",
      found: `a curve model ("${model}") for ${kinds.join(" and ")}`,
      accepted: "--relaxation, e.g. --relaxation debye",
    });
  if (model !== undefined && model !== "log-normal" && kinds.length > 1)
    throw new FerruleError("InvalidValue", {
      path: "--model",
      found: `"${model}" for a joint fit`,
      accepted: "log-normal: the model that all instruments share; fit the curve alone for another",
    });
  if (relaxation !== undefined && kinds.every((kind) => kind === "curve"))
    throw new FerruleError("InvalidValue", {
      path: "--relaxation",
      found: `"${relaxation}" for a static curve, which says nothing about relaxation`,
      accepted: "no --relaxation, or a spectrum or susceptibility beside the curve",
    });
}
