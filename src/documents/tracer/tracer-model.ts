import { type CoreSizes, momentPerIron_A_m2_per_kg, numberWeighted } from "../../physics/index.js";
import { type Origin, originAdvisories } from "../fields/origin.js";
import type { Provenance } from "../fields/provenance.js";
import { numberWeightedUncertainty } from "./number-weighted-uncertainty.js";
import type { ParsedTracer, TracerDocument } from "./tracer-schema.js";

/** A tracer in SI. Medians are number-weighted, whatever weighting the document states. */
export interface TracerModel {
  readonly name: string;
  readonly lot?: string | undefined;
  readonly origin: Origin;
  readonly core: {
    readonly material: "magnetite" | "maghemite" | "other";
    readonly saturation_A_per_m: number;
    readonly density_kg_per_m3: number;
    readonly ironMassFraction: number;
    /** Saturated moment per kg Fe: as measured, or from saturation, density and iron fraction. */
    readonly momentPerIron_A_m2_per_kg: number;
    /** As the physics takes them; a log-normal is number-weighted here. */
    readonly sizes: CoreSizes;
    /** The weighting that the document states its median in; absent for a single size. */
    readonly statedWeighting?: "number" | "volume" | undefined;
  };
  readonly standardUncertainties: TracerUncertainties;
  readonly relaxation: { readonly kind: "none" } | { readonly kind: "debye"; readonly time_s: number };
  readonly environment: { readonly medium: TracerDocument["environment"]["medium"]; readonly temperature_K: number };
  /** Cautions that every answer made with this tracer carries. */
  readonly advisories: readonly string[];
  readonly provenance?: Provenance | undefined;
}

/** k = 1; absent: not stated, which is not the same as zero. */
export interface TracerUncertainties {
  readonly saturation_A_per_m?: number | undefined;
  readonly diameter_m?: number | undefined;
  readonly medianDiameter_m?: number | undefined;
  readonly logSd?: number | undefined;
  readonly medianLogSdCorrelation?: number | undefined;
}

export function toTracerModel(parsed: ParsedTracer): TracerModel {
  const { name, lot, origin, core, environment, provenance } = parsed;
  return {
    name,
    lot,
    origin,
    core: {
      material: core.material,
      saturation_A_per_m: core.saturation,
      density_kg_per_m3: core.density,
      ironMassFraction: core.ironMassFraction,
      momentPerIron_A_m2_per_kg:
        core.momentPerIron ??
        momentPerIron_A_m2_per_kg(core.saturation, {
          density_kg_per_m3: core.density,
          ironMassFraction: core.ironMassFraction,
        }),
      sizes: toSizes(core.sizes),
      statedWeighting: core.sizes.kind === "single" ? undefined : core.sizes.weighting,
    },
    standardUncertainties: toUncertainties(parsed),
    relaxation:
      parsed.relaxation.kind === "none" ? { kind: "none" } : { kind: "debye", time_s: parsed.relaxation.time },
    environment: { medium: environment.medium, temperature_K: environment.temperature },
    advisories: toAdvisories(parsed),
    provenance,
  };
}

function toSizes(sizes: ParsedTracer["core"]["sizes"]): CoreSizes {
  if (sizes.kind === "single") return { kind: "single", diameter_m: sizes.diameter };
  const { kind, weighting, medianDiameter, logSd } = sizes;
  return numberWeighted({ kind, weighting, medianDiameter_m: medianDiameter, logSd });
}

function toUncertainties({ core: { sizes }, uncertainties = {} }: ParsedTracer): TracerUncertainties {
  const { saturation: saturation_A_per_m, diameter: diameter_m } = uncertainties;
  if (sizes.kind === "single") return { saturation_A_per_m, diameter_m };
  const stated = {
    medianDiameter_m: uncertainties.medianDiameter,
    logSd: uncertainties.logSd,
    medianLogSdCorrelation: uncertainties.medianLogSdCorrelation,
  };
  const lognormal = { medianDiameter_m: sizes.medianDiameter, logSd: sizes.logSd };
  return {
    saturation_A_per_m,
    ...(sizes.weighting === "volume" ? numberWeightedUncertainty(lognormal, stated) : stated),
  };
}

function toAdvisories({ name, origin, assumptions = [], cautions = [], uncertainties = {} }: ParsedTracer): string[] {
  const { medianDiameter, logSd, medianLogSdCorrelation } = uncertainties;
  const isCorrelationUnstated =
    medianDiameter !== undefined && logSd !== undefined && medianLogSdCorrelation === undefined;
  return [
    ...originAdvisories(`tracer ${name}`, origin),
    ...cautions.map((caution) => `tracer ${name}: ${caution}`),
    ...assumptions.map(({ fact, value, note }) => `tracer ${name}: assumed ${fact} = ${value} (${note})`),
    ...(isCorrelationUnstated
      ? [`tracer ${name}: correlation of median diameter and log-sd is not stated and was taken as 0`]
      : []),
  ];
}
