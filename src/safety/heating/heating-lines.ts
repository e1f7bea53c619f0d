import type { Axis } from "../../physics/index.js";
import { formatNumber } from "../../units/index.js";
import type { Body } from "../body.js";
import { type Drive, driveName, dutyOf } from "../drive.js";
import { type LimitLine, type LimitReference, limitLine } from "../limit-line.js";
import { bodyHeating } from "./body-heating.js";
import { sarAveragingTime_s, sarLimits } from "./sar-limits.js";
import { adiabaticWarming_K_per_s } from "./warming-rate.js";

/** Heating by one or more drives that run together. */
interface Heating {
  readonly name: string;
  readonly axis: Axis | null;
  readonly mean_W_per_kg: number;
  readonly highest_W_per_kg: number;
  readonly model: string;
}

/**
 * Heating of the exposed section beside every limit: each drive alone, and all together where there are more than one.
 * Mean powers of different frequencies add; the worst points are added too, though they need not lie in one place.
 */
export function heatingLines(body: Body, drives: readonly Drive[]): LimitLine[] {
  const each = drives.map((drive) => heatingOf(body, drive));
  return [...each, ...together(each)].flatMap((heating) =>
    body.class === "animal" ? animalLines(body, heating) : humanLines(body, heating),
  );
}

function heatingOf(body: Body, drive: Drive): Heating {
  const { mean_W_per_kg, highest_W_per_kg, model } = bodyHeating(body, drive);
  const duty = dutyOf(drive);
  const shown = `${model}${duty < 1 ? `; duty ${formatNumber(duty, 3)} within 6 min` : ""}`;
  return { name: driveName(drive), axis: drive.axis, mean_W_per_kg, highest_W_per_kg, model: shown };
}

function together(each: readonly Heating[]): Heating[] {
  if (each.length < 2) return [];
  const total = (pick: (heating: Heating) => number) => each.reduce((sum, heating) => sum + pick(heating), 0);
  return [
    {
      name: "all drives together",
      axis: null,
      mean_W_per_kg: total((heating) => heating.mean_W_per_kg),
      highest_W_per_kg: total((heating) => heating.highest_W_per_kg),
      model: "sum over the drives, worst points added wherever they lie",
    },
  ];
}

const edition = "as quoted in public repository documents; the standard itself was not read";
const written = "written for radio-frequency heating in MRI and 6 min averages, used here at drive frequencies";

function humanLines(body: Body, heating: Heating): LimitLine[] {
  const whole = wholeBody(body, heating);
  const lines = [
    sarLine(body, heating, whole, standard("whole body, normal mode 2 W/kg", sarLimits.wholeBodyNormal_W_per_kg)),
    sarLine(body, heating, whole, standard("whole body, first level 4 W/kg", sarLimits.wholeBodyFirstLevel_W_per_kg)),
  ];
  const local = { what: "worst point", value: heating.highest_W_per_kg, how: "a point, above any average over 10 g" };
  const { head_W_per_kg, localTrunk_W_per_kg } = sarLimits;
  if (body.part === "human-head") {
    const head = {
      what: "head",
      value: heating.mean_W_per_kg,
      how: "mean of the exposed section for that of the head",
    };
    return [
      ...lines,
      sarLine(body, heating, head, standard("head 3.2 W/kg", head_W_per_kg)),
      sarLine(body, heating, local, unpublished("local heating of the head")),
    ];
  }
  if (body.part === "human-torso")
    return [...lines, sarLine(body, heating, local, standard("local trunk 10 W/kg", localTrunk_W_per_kg))];
  return [...lines, sarLine(body, heating, local, unpublished("local heating of this part"))];
}

function animalLines(body: Body, heating: Heating): LimitLine[] {
  const mean = { what: "section mean", value: heating.mean_W_per_kg, how: "mean of the exposed section" };
  const local = { what: "worst point", value: heating.highest_W_per_kg, how: "a point, not averaged over any mass" };
  const reference = unpublished("heating of animals");
  return [sarLine(body, heating, mean, reference), sarLine(body, heating, local, reference)];
}

/** A drive coil covers part of the body: only with its mass can the whole-body average be formed. */
function wholeBody({ exposedMass_kg, mass_kg }: Body, { mean_W_per_kg }: Heating): SarValue {
  if (exposedMass_kg === undefined)
    return {
      what: "whole body",
      value: mean_W_per_kg,
      how: "mean of the exposed section in place of the whole-body average: an upper figure, for the coils cover only part of the body (state the exposed mass)",
    };
  return {
    what: "whole body",
    value: (mean_W_per_kg * exposedMass_kg) / mass_kg,
    how: `mean of the exposed section over ${exposedMass_kg} of ${mass_kg} kg`,
  };
}

interface SarValue {
  readonly what: string;
  readonly value: number;
  readonly how: string;
}

const standard = (what: string, limit: number): LimitReference => ({
  limit,
  source: `IEC 60601-2-33, ${what}`,
  edition,
  status: "read (secondary)",
  caution: written,
});

const unpublished = (what: string): LimitReference => ({
  limit: null,
  source: `${what}: none in our sources`,
  edition: "none",
  status: "common practice",
  caution: "watch the temperature",
});

function sarLine(
  body: Body,
  { name, axis, model }: Heating,
  { what, value, how }: SarValue,
  reference: LimitReference,
): LimitLine {
  const rise_K = formatNumber(sarAveragingTime_s * adiabaticWarming_K_per_s(value), 3);
  const warming = `without blood flow ${rise_K} K in 6 min (3500 J/(kg K), from memory)`;
  const compared = {
    class: body.class,
    quantity: `heating, ${what}, ${name}`,
    axis,
    bodyPart: body.part,
    kind: "specificAbsorptionRate",
    value,
  } as const;
  return limitLine(compared, {
    ...reference,
    caution: `${how}; ${model}; from the peak amplitude, averaged over the period; ${body.statusText}; ${warming}; ${reference.caution}`,
  });
}
