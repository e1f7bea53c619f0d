import { type Medium, media } from "../../documents/index.js";
import type { Measurement } from "../../formats/index.js";
import type { CurveAssumption } from "../../measure/index.js";

/** What the measurements of one tracer say beside their numbers: the first that states a fact is believed. */
export interface MeasuredFacts {
  readonly name: string;
  readonly points: number;
  readonly coreMaterial?: string | undefined;
  readonly coreSaturation_A_per_m?: number | undefined;
  readonly temperature_K?: number | undefined;
  readonly viscosity_Pa_s?: number | undefined;
  readonly medium: Medium;
  readonly assumptions: readonly CurveAssumption[];
  /** What the saturated moment was divided by, where the first curve or spectrum says so. */
  readonly basis?: string | undefined;
}

export function factsOf(measurements: readonly Measurement[]): MeasuredFacts {
  const each = measurements.map(factsOfOne);
  const first = <Key extends keyof MeasuredFacts>(key: Key) =>
    each.map((facts) => facts[key]).find((v) => v !== undefined);
  return {
    name: each.map(({ name }) => name).join(" + "),
    points: each.reduce((sum, { points }) => sum + points, 0),
    coreMaterial: first("coreMaterial"),
    coreSaturation_A_per_m: first("coreSaturation_A_per_m"),
    temperature_K: first("temperature_K"),
    viscosity_Pa_s: first("viscosity_Pa_s"),
    medium: each.map(({ medium }) => medium).find((medium) => medium !== "other") ?? "other",
    assumptions: each.flatMap(({ assumptions }) => assumptions),
    basis: first("basis"),
  };
}

function factsOfOne(measurement: Measurement): MeasuredFacts {
  switch (measurement.kind) {
    case "curve": {
      const { curve } = measurement;
      return { ...curve, points: curve.field_T.length, medium: "other" };
    }
    case "harmonics": {
      const { spectrum } = measurement;
      return {
        ...spectrum,
        points: spectrum.harmonic.length,
        viscosity_Pa_s: spectrum.medium?.viscosity_Pa_s,
        medium: mediumNamed(spectrum.medium?.name),
      };
    }
    case "susceptibility": {
      const { susceptibility } = measurement;
      return { ...susceptibility, basis: undefined, points: susceptibility.frequency_Hz.length, medium: "other" };
    }
  }
}

const mediumNamed = (name = ""): Medium => media.find((medium) => medium === name.trim().toLowerCase()) ?? "other";
