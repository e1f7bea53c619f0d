import type { z } from "zod";
import { refuse } from "../fields/refuse.js";

/** The part of a parsed tracer that the rules below look at. */
export interface UncertainTracer {
  readonly core: { readonly sizes: { readonly kind: SizesKind; readonly weighting?: string | undefined } };
  readonly relaxation: { readonly kind: string };
  readonly coupling?: number | undefined;
  readonly uncertainties?:
    | {
        readonly diameter?: number | undefined;
        readonly medianDiameter?: number | undefined;
        readonly logSd?: number | undefined;
        readonly medianLogSdCorrelation?: number | undefined;
        readonly staticWidth?: number | undefined;
        readonly relaxationTime?: number | undefined;
        readonly coupling?: number | undefined;
      }
    | undefined;
}

type SizesKind = "single" | "lognormal" | "mixture" | "table";

/** Which uncertainties of its own a kind of sizes has; `staticWidth`, the width as a whole, goes with every kind. */
const sizeFields = {
  single: ["diameter"],
  lognormal: ["medianDiameter", "logSd", "medianLogSdCorrelation"],
  mixture: [],
  table: [],
} as const satisfies Record<SizesKind, readonly string[]>;

/** Uncertainties belong to quantities that the document states; a correlation needs both of its quantities. */
export function refuseMisfitUncertainties(tracer: UncertainTracer, sink: z.core.$RefinementCtx): void {
  const { core, relaxation, coupling, uncertainties } = tracer;
  if (uncertainties === undefined) return;
  const { kind } = core.sizes;
  const own: readonly string[] = sizeFields[kind];
  for (const field of Object.values(sizeFields).flat())
    if (uncertainties[field] !== undefined && !own.includes(field))
      refuse(sink, ["uncertainties", field], {
        found: `an uncertainty of "${field}", which sizes of kind "${kind}" do not have`,
        accepted: [...own, "staticWidth"].map((name) => `"${name}"`).join(", "),
      });
  if (uncertainties.relaxationTime !== undefined && !["debye", "field-dependent"].includes(relaxation.kind))
    refuse(sink, ["uncertainties", "relaxationTime"], {
      found: `an uncertainty of a time that relaxation of kind "${relaxation.kind}" does not state`,
      accepted: 'it beside relaxation of kind "debye" or "field-dependent"',
    });
  if (uncertainties.coupling !== undefined && coupling === undefined)
    refuse(sink, ["uncertainties", "coupling"], {
      found: "an uncertainty of a coupling that is not stated",
      accepted: 'it beside "coupling", e.g. 2.1',
    });
  if (kind === "lognormal") refuseHalfStated(core.sizes.weighting, uncertainties, sink);
}

function refuseHalfStated(
  weighting: string | undefined,
  { medianDiameter, logSd, medianLogSdCorrelation }: NonNullable<UncertainTracer["uncertainties"]>,
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
