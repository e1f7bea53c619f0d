import type { z } from "zod";
import { refuse } from "../fields/refuse.js";

/** The part of a parsed tracer that the rules below look at. */
export interface UncertainSizes {
  readonly core: {
    readonly sizes: { readonly kind: "single" } | { readonly kind: "lognormal"; readonly weighting: string };
  };
  readonly uncertainties?:
    | {
        readonly diameter?: number | undefined;
        readonly medianDiameter?: number | undefined;
        readonly logSd?: number | undefined;
        readonly medianLogSdCorrelation?: number | undefined;
      }
    | undefined;
}

const lognormalOnly = ["medianDiameter", "logSd", "medianLogSdCorrelation"] as const;

/** Uncertainties belong to quantities that the document states; a correlation needs both of its quantities. */
export function refuseMisfitUncertainties({ core, uncertainties }: UncertainSizes, sink: z.core.$RefinementCtx): void {
  if (uncertainties === undefined) return;
  const { kind } = core.sizes;
  const misfits = kind === "single" ? lognormalOnly : (["diameter"] as const);
  for (const field of misfits)
    if (uncertainties[field] !== undefined)
      refuse(sink, ["uncertainties", field], {
        found: `an uncertainty of "${field}", which sizes of kind "${kind}" do not have`,
        accepted: kind === "single" ? '"diameter"' : '"medianDiameter" and "logSd"',
      });
  if (core.sizes.kind === "lognormal") refuseHalfStated(core.sizes.weighting, uncertainties, sink);
}

function refuseHalfStated(
  weighting: string,
  { medianDiameter, logSd, medianLogSdCorrelation }: NonNullable<UncertainSizes["uncertainties"]>,
  sink: z.core.$RefinementCtx,
): void {
  const isPair = medianDiameter !== undefined && logSd !== undefined;
  if (medianLogSdCorrelation !== undefined && !isPair)
    refuse(sink, ["uncertainties", "medianLogSdCorrelation"], {
      found: "a correlation without both uncertainties",
      accepted: 'it together with "medianDiameter" and "logSd"',
    });
  // The number-weighted median comes from both stated parameters, so its uncertainty needs both of theirs.
  if (weighting === "volume" && !isPair && (medianDiameter !== undefined || logSd !== undefined))
    refuse(sink, ["uncertainties"], {
      found: "one uncertainty of a volume-weighted log-normal",
      accepted: 'both "medianDiameter" and "logSd": the number-weighted median depends on the two',
    });
}
