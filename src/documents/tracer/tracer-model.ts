import { type CoreSizes, momentPerIron_A_m2_per_kg, type Relaxation } from "../../physics/index.js";
import { type Origin, originAdvisories } from "../fields/origin.js";
import type { Provenance } from "../fields/provenance.js";
import { numberWeightedUncertainty } from "./number-weighted-uncertainty.js";
import { toRelaxation } from "./relaxation-field.js";
import { toSizes } from "./sizes-field.js";
import { type Medium, type TracerState, toState } from "./states-field.js";
import type { ParsedTracer } from "./tracer-schema.js";

/** A tracer in SI. The median of a log-normal is number-weighted, whatever weighting the document states. */
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
  readonly relaxation: Relaxation;
  /** Effective mean-field coupling kappa of chained cores; absent: none. */
  readonly coupling?: number | undefined;
  readonly environment: { readonly medium: Medium; readonly temperature_K: number };
  /** Other media and temperatures in which this tracer was measured. */
  readonly states: readonly TracerState[];
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
  readonly staticWidth_T?: number | undefined;
  readonly relaxationTime_s?: number | undefined;
  readonly coupling?: number | undefined;
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
    relaxation: toRelaxation(parsed.relaxation),
    coupling: parsed.coupling,
    states: (parsed.states ?? []).map(toState),
    environment: { medium: environment.medium, temperature_K: environment.temperature },
    advisories: toAdvisories(parsed),
    provenance,
  };
}

function toUncertainties({ core: { sizes }, uncertainties = {} }: ParsedTracer): TracerUncertainties {
  const common = {
    saturation_A_per_m: uncertainties.saturation,
    staticWidth_T: uncertainties.staticWidth,
    relaxationTime_s: uncertainties.relaxationTime,
    coupling: uncertainties.coupling,
  };
  if (sizes.kind === "single") return { ...common, diameter_m: uncertainties.diameter };
  if (sizes.kind !== "lognormal") return common;
  const stated = {
    medianDiameter_m: uncertainties.medianDiameter,
    logSd: uncertainties.logSd,
    medianLogSdCorrelation: uncertainties.medianLogSdCorrelation,
  };
  const lognormal = { medianDiameter_m: sizes.medianDiameter, logSd: sizes.logSd };
  return { ...common, ...(sizes.weighting === "volume" ? numberWeightedUncertainty(lognormal, stated) : stated) };
}

function toAdvisories({
  name,
  origin,
  coupling,
  assumptions = [],
  cautions = [],
  uncertainties = {},
}: ParsedTracer): string[] {
  const { medianDiameter, logSd, medianLogSdCorrelation } = uncertainties;
  const isCorrelationUnstated =
    medianDiameter !== undefined && logSd !== undefined && medianLogSdCorrelation === undefined;
  return [
    ...originAdvisories(`tracer ${name}`, origin),
    ...cautions.map((caution) => `tracer ${name}: ${caution}`),
    ...assumptions.map(({ fact, value, note }) => `tracer ${name}: assumed ${fact} = ${value} (${note})`),
    ...(coupling === undefined ? [] : [`tracer ${name}: its coupling is an effective parameter, not a chain geometry`]),
    ...(isCorrelationUnstated
      ? [`tracer ${name}: correlation of median diameter and log-sd is not stated and was taken as 0`]
      : []),
  ];
}
