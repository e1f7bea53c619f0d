import { FerruleError } from "../../errors.js";
import { formatNumber } from "../../units/index.js";
import { frequencyName } from "../drive.js";
import { transverseField_V_per_m } from "../heating/transverse-cylinder.js";
import { type LimitLine, limitLine } from "../limit-line.js";
import { requirePositive, requireText } from "../ranges.js";
import {
  type Audience,
  basicRestriction_V_per_m,
  headAt60Hz_V_per_m,
  implantLine_T,
  referenceLevel_T,
  workersPeakField_V_per_m,
} from "./reference-levels.js";

/** The drive's stray field where somebody may stand. Sinusoidal. */
export interface StrayField {
  /** "console", "door": names the place in every line. */
  readonly place: string;
  /** *Peak* mu0H. */
  readonly amplitude_T: number;
  readonly frequency_Hz: number;
  /** Who comes there; anyone when not given. */
  readonly access?: "staff only" | "anyone";
}

export interface StaticStrayField {
  readonly place: string;
  readonly amplitude_T: number;
}

export interface StaffExposure {
  readonly stray: readonly StrayField[];
  readonly staticStray?: readonly StaticStrayField[];
}

/** Radius of the person in whom the stray field's loops are estimated, m; typical trunk, from memory. */
const bystanderRadius_m = 0.2;

/**
 * Stray fields beside the levels for people at work and for anyone. Always class "staff": none of these levels binds a
 * scan subject.
 *
 * @throws FerruleError  InvalidValue, MissingFact; Conflict for one frequency twice in one place
 */
export function staffLimits({ stray, staticStray = [] }: StaffExposure): LimitLine[] {
  for (const [i, field] of stray.entries()) checkStray(field, `stray[${i}]`);
  requireDistinct(stray);
  return [
    ...stray.flatMap((field) =>
      audiencesOf(field).flatMap((audience) => [levelLine(field, audience), ...inducedLines(field, audience)]),
    ),
    ...sumLines(stray),
    ...staticStray.map((field, i) => staticLine(field, `staticStray[${i}]`)),
  ];
}

const audiencesOf = ({ access = "anyone" }: StrayField): readonly Audience[] =>
  access === "anyone" ? ["occupational", "public"] : ["occupational"];

const rms_T = ({ amplitude_T }: StrayField): number => amplitude_T / Math.SQRT2;
const where = ({ place, frequency_Hz }: StrayField): string => `${place} at ${frequencyName(frequency_Hz)}`;

function levelLine(field: StrayField, audience: Audience): LimitLine {
  return limitLine(
    {
      class: "staff",
      quantity: `stray field (rms), ${audience}, ${where(field)}`,
      axis: null,
      bodyPart: "whole body",
      kind: "appliedField",
      value: rms_T(field),
    },
    {
      limit: referenceLevel_T(field.frequency_Hz, audience),
      source: `ICNIRP, Health Phys. 99:818 (2010), ${audience} reference level`,
      edition: "2010, as table 7.3 of a bioelectromagnetism handbook",
      status: "read",
      caution: `rms of a sine, peak/sqrt 2; largest field in the place where a person may be; above 100 kHz heating limits apply as well; ${implants}`,
    },
  );
}

const implants = "no level here protects an implant or a pregnancy";

/** The electric field that the stray field may induce, beside the restrictions behind the reference levels. */
function inducedLines(field: StrayField, audience: Audience): LimitLine[] {
  const { frequency_Hz } = field;
  const compared = {
    class: "staff",
    quantity: `induced electric field (rms), ${audience}, ${where(field)}`,
    axis: null,
    bodyPart: "whole body",
    kind: "electricField",
    value: transverseField_V_per_m(bystanderRadius_m, 2 * Math.PI * frequency_Hz * rms_T(field)),
  } as const;
  const model = `an upper figure: uniform field across an endless cylinder of radius ${bystanderRadius_m} m; ${implants}`;
  const restriction = limitLine(compared, {
    limit: basicRestriction_V_per_m(frequency_Hz, audience),
    source: `ICNIRP, Health Phys. 99:818 (2010), ${audience} basic restriction, all tissue of head and body`,
    edition: "2010; 60 Hz value as summarised by emftesting.net",
    status: frequency_Hz === 60 ? "read (secondary)" : "from memory",
    caution: model,
  });
  return [restriction, ...workersLines(frequency_Hz, audience, compared, model), ...headLines(field, audience)];
}

function workersLines(
  frequency_Hz: number,
  audience: Audience,
  compared: Parameters<typeof limitLine>[0],
  model: string,
): LimitLine[] {
  if (audience !== "occupational") return [];
  const peak_V_per_m = workersPeakField_V_per_m(frequency_Hz);
  const shown = peak_V_per_m === null ? "" : `${formatNumber(peak_V_per_m)} V/m peak as rms of a sine; `;
  return [
    limitLine(compared, {
      limit: peak_V_per_m === null ? null : peak_V_per_m / Math.SQRT2,
      source: "European and Norwegian workers' rule, peak electric field in all tissue",
      edition: "arbeidstilsynet.no, regulation, table 7.2",
      status: "read",
      caution: `${shown}${model}`,
    }),
  ];
}

/** The head has a stricter restriction at low frequency; our sources give it at 60 Hz only. */
function headLines(field: StrayField, audience: Audience): LimitLine[] {
  const { frequency_Hz } = field;
  if (frequency_Hz >= 3e3) return [];
  const headRadius_m = 0.09;
  return [
    limitLine(
      {
        class: "staff",
        quantity: `induced electric field in the head (rms), ${audience}, ${where(field)}`,
        axis: null,
        bodyPart: "head",
        kind: "electricField",
        value: transverseField_V_per_m(headRadius_m, 2 * Math.PI * frequency_Hz * rms_T(field)),
      },
      {
        limit: frequency_Hz === 60 ? headAt60Hz_V_per_m[audience] : null,
        source: `ICNIRP, Health Phys. 99:818 (2010), ${audience} basic restriction, central nervous system of the head`,
        edition: "2010, 60 Hz only, as summarised by emftesting.net",
        status: "read (secondary)",
        caution: `an upper figure: uniform field across an endless cylinder of radius ${headRadius_m} m; the standard has values at other frequencies: read it there`,
      },
    ),
  ];
}

/** Fields of several frequencies in one place: their parts of the reference level add up to at most 1. */
function sumLines(stray: readonly StrayField[]): LimitLine[] {
  const places = [...new Set(stray.map(({ place }) => place))];
  return places.flatMap((place) => {
    const fields = stray.filter((field) => field.place === place);
    if (fields.length < 2) return [];
    const isForAnyone = fields.some(({ access = "anyone" }) => access === "anyone");
    const audiences: readonly Audience[] = isForAnyone ? ["occupational", "public"] : ["occupational"];
    return audiences.flatMap((audience) => sumLine(place, fields, audience));
  });
}

function sumLine(place: string, fields: readonly StrayField[], audience: Audience): LimitLine[] {
  const parts = fields.map((field) => {
    const level_T = referenceLevel_T(field.frequency_Hz, audience);
    return level_T === null ? null : rms_T(field) / level_T;
  });
  const known = parts.filter((part) => part !== null);
  const isWhole = known.length === parts.length;
  const value = known.reduce((sum, part) => sum + part, 0);
  // A sum with a gap is a lower figure: it can show that the limit is passed, never that it is kept.
  const gap = isWhole ? "" : "the sum lacks the frequencies for which our sources have no level; ";
  return [
    limitLine(
      {
        class: "staff",
        quantity: `stray field, sum over frequencies, ${audience}, ${place}`,
        axis: null,
        bodyPart: "whole body",
        kind: "dimensionless",
        value,
      },
      {
        limit: isWhole || value >= 1 ? 1 : null,
        source: `ICNIRP, Health Phys. 99:818 (2010), ${audience}, fields of several frequencies: sum of field over level`,
        edition: "2010",
        status: "from memory",
        caution: `${gap}sum of the parts of each reference level; strict where the phases are unrelated`,
      },
    ),
  ];
}

function staticLine({ place, amplitude_T }: StaticStrayField, path: string): LimitLine {
  requireText(place, `${path}.place`, "door");
  requirePositive(amplitude_T, `${path}.amplitude_T`, "0.3e-3 (0.3 mT)");
  return limitLine(
    {
      class: "staff",
      quantity: `static stray field, implants, ${place}`,
      axis: null,
      bodyPart: "whole body",
      kind: "appliedField",
      value: amplitude_T,
    },
    {
      limit: implantLine_T,
      source: "0.5 mT line for active implants: IEC 60601-2-33 in earlier editions, common practice",
      edition: "from memory; a later edition may draw another line",
      status: "from memory",
      caution:
        "a line for access, marked and screened at; it says nothing of pulled-in objects, of passive implants, or of a field that is pulsed or ramped",
    },
  );
}

function checkStray({ place, amplitude_T, frequency_Hz }: StrayField, path: string): void {
  requireText(place, `${path}.place`, "console");
  requirePositive(amplitude_T, `${path}.amplitude_T`, "20e-6 (20 uT peak)");
  requirePositive(frequency_Hz, `${path}.frequency_Hz`, "25e3 (25 kHz)");
}

function requireDistinct(stray: readonly StrayField[]): void {
  const names = stray.map(where);
  const twice = names.find((name, i) => names.indexOf(name) !== i);
  if (twice === undefined) return;
  throw new FerruleError("Conflict", {
    path: "stray",
    found: `"${twice}" twice`,
    accepted: "one entry for each place and frequency, with the amplitude of their sum",
  });
}
