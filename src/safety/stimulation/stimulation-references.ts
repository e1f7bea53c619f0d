import type { Axis } from "../../physics/index.js";
import { formatNumber, formatQuantity } from "../../units/index.js";
import type { Body } from "../body.js";
import type { FieldSwing } from "../drive.js";
import type { LimitReference } from "../limit-line.js";
import { headChronaxie_s } from "./head-chronaxie.js";
import { departurePoints, measuredDeparture } from "./measured-departure.js";
import { squareRootChangeRatio } from "./square-root-law.js";
import {
  operatingModes,
  type RateReading,
  readThresholdChange_T,
  thresholdChange_T,
  wholeBodyDefault,
} from "./strength-duration.js";
import { torsoThresholds_T } from "./torso-estimate.js";
import { discomfortOverSensation, measuredWholeBody } from "./whole-body-measured.js";

/** One rise of a field along an axis, in a body part. */
export interface Stimulus {
  readonly body: Body;
  readonly axis: Axis;
  readonly swing: Omit<FieldSwing, "meanSquareRate_T2_per_s2">;
  /** Of a sinusoidal drive; `null` for pulses, ramps and shift fields, to which measured sinusoid data do not apply. */
  readonly sine_Hz: number | null;
}

/** Limits here are peak-to-peak changes of the field, T. */
type References = readonly LimitReference[];

const edition = "2022 edition, as quoted in public sequence-check documents; the standard itself was not read";
const extrapolated =
  "fitted to gradient pulses in MRI, an extrapolation to a homogeneous field and to drive frequencies";
const together =
  "fields that run together are compared one by one: no published rule for their joint action is known to us";

/** Every source that speaks of this stimulus, with its limit as a peak-to-peak change; `null` where it has none. */
export function stimulationReferences(stimulus: Stimulus): References {
  const { body } = stimulus;
  if (body.class === "animal") return [animalReference(body), ...ownReferences(stimulus)];
  return [
    ...standardReferences(stimulus),
    ...measuredReferences(stimulus),
    ...departureReferences(stimulus),
    ...torsoReferences(stimulus),
    ...headReferences(stimulus),
    ...ownReferences(stimulus),
  ];
}

function animalReference({ part }: Body): LimitReference {
  return {
    limit: null,
    source: part === "own" ? "no stimulation standard for animals" : "no stimulation standard covers rodents",
    edition: "none",
    status: "common practice",
    caution: "human fits are not carried over to animals; watch the anaesthetised animal for twitching",
  };
}

function standardReferences({ swing }: Stimulus): References {
  const line = (mode: keyof typeof operatingModes, reading: RateReading, how: string): LimitReference => ({
    limit: operatingModes[mode] * readThresholdChange_T(swing, wholeBodyDefault, reading),
    source: `IEC 60601-2-33, whole-body default, ${mode === "normal" ? "normal mode (80 %)" : "first level (100 %)"}${how}`,
    edition,
    status: reading === "mean rate" ? "read (secondary)" : "from memory",
    caution: `${extrapolated}; ${reading === "mean rate" ? `${swingText(swing)}; ${together}` : "another reading of the stimulus duration"}`,
  });
  const ours = [line("normal", "mean rate", ""), line("firstLevel", "mean rate", "")];
  if (swing.peakRate_T_per_s === swing.meanRate_T_per_s) return ours;
  return [
    ...ours,
    line("normal", "peak rate, effective duration", ", peak rate with duration change/peak rate (1/(pi f) for a sine)"),
    line("normal", "peak rate, whole rise", ", peak rate with the whole rise (1/(2 f) for a sine)"),
  ];
}

/** Mean rate and duration, and what the early square-root law would make of them. */
function swingText({ meanRate_T_per_s, duration_s }: Stimulus["swing"]): string {
  const { chronaxie_s } = wholeBodyDefault;
  const matched_T = thresholdChange_T(chronaxie_s, wholeBodyDefault) * squareRootChangeRatio(duration_s, chronaxie_s);
  const factor = formatNumber(matched_T / thresholdChange_T(duration_s, wholeBodyDefault), 2);
  const swing = `mean ${formatQuantity(meanRate_T_per_s, "fieldRate")} over ${formatQuantity(duration_s, "time")}`;
  return `${swing}; an early law, dB/dt as t^-0.5 (Ham et al. 1997, shape only), matched at the chronaxie, is x${factor} of the hyperbola here`;
}

function measuredReferences({ axis, swing }: Stimulus): References {
  const fit = measuredWholeBody(axis);
  const paper = "Bourland et al., Neuroimaging Clin. N. Am. 9:363 (1999)";
  const known = { edition: "1999, abstract", status: "read" } as const;
  if (fit === null)
    return [{ limit: null, source: `${paper}: y and z only`, ...known, caution: `no measured ${axis} gradient` }];
  return [
    {
      limit: thresholdChange_T(swing.duration_s, fit),
      source: `mean sensation of 84 people, whole-body ${axis} gradient: ${paper}`,
      ...known,
      caution: `about half of the people felt it at less, discomfort near ${discomfortOverSensation} times it; the axis is that of the gradient coil; ${extrapolated}`,
    },
  ];
}

function departureReferences({ sine_Hz }: Stimulus): References {
  const { minimum_Hz, rise } = departurePoints;
  if (sine_Hz === null || sine_Hz < minimum_Hz) return [];
  const factor = measuredDeparture(sine_Hz);
  const least_T = thresholdChange_T(0.5 / minimum_Hz, wholeBodyDefault);
  const shape = factor === null ? "" : `, here x${formatNumber(factor, 3)}`;
  return [
    {
      limit: factor === null ? null : factor * least_T,
      source:
        "measured departure from the hyperbola: Barksdale et al., IEEE J. Transl. Eng. Health Med. 13:275 (2025), on the whole-body default at 25 kHz",
      edition: "2025, PMC12310169",
      status: "derived",
      caution: `shape only: mean of 8 heads, least near 25 kHz and +${100 * rise} % at 88.1 kHz${shape}; it raises no limit of the others`,
    },
  ];
}

function torsoReferences({ body, swing }: Stimulus): References {
  if (body.part === "human-arm") return [armGap];
  if (body.part !== "human-torso") return [];
  const ends = torsoThresholds_T(swing.duration_s);
  const reference = (end: "low" | "high"): LimitReference => ({
    limit: ends[end],
    source: `torso estimate for homogeneous fields, ${end} end: Saritas et al., IEEE TMI 32:1600 (2013)`,
    edition: "2013",
    status: "from memory",
    caution: "low confidence: measured on limbs and scaled to the torso",
  });
  return [reference("low"), reference("high")];
}

/** The threshold grows as the radius shrinks; a figure scaled by us would be lenient and is not published. */
const armGap: LimitReference = {
  limit: null,
  source: "thresholds of arms in homogeneous fields: Saritas et al., IEEE TMI 32:1600 (2013)",
  edition: "2013",
  status: "from memory",
  caution: "measured there, exact figures not known to us; whole-body values on an arm are an extrapolation",
};

function headReferences({ body }: Stimulus): References {
  if (body.part !== "human-head") return [];
  return [
    {
      limit: null,
      source: "head thresholds: meta-analysis of head gradients, PMC8651073",
      edition: "abstract",
      status: "read",
      caution: `gives a chronaxie of ${formatQuantity(headChronaxie_s, "time", { digits: 3 })} without a rheobase: no threshold follows; whole-body values on a head are an extrapolation`,
    },
  ];
}

function ownReferences({ body: { ownThreshold }, swing }: Stimulus): References {
  if (ownThreshold === undefined) return [];
  return [
    {
      limit: thresholdChange_T(swing.duration_s, ownThreshold),
      source: `given by the user: ${ownThreshold.source}`,
      edition: "as given",
      status: ownThreshold.status,
      caution: "the user's own threshold: not from our sources, and not checked by us",
    },
  ];
}
