import type { z } from "zod";
import { refuse, refuseDuplicates } from "../fields/refuse.js";
import { oneOfNames } from "../nearest-name.js";

/** The part of a parsed study that its inner references concern. */
export interface StudyReferences {
  readonly invented: boolean;
  readonly notice?: string | undefined;
  readonly tracer?: string | undefined;
  readonly tracerCurve?: object | undefined;
  readonly scans: readonly { readonly name: string; readonly role: string }[];
  readonly calibration?:
    | { readonly vials: readonly { readonly label: string; readonly scan?: string | undefined }[] }
    | undefined;
  readonly regions: readonly { readonly label: string }[];
  readonly questions: readonly { readonly region: string }[];
}

/** Names are unique, and every name that is referred to exists. */
export function refuseLooseEnds(study: StudyReferences, sink: z.core.$RefinementCtx): void {
  const { scans, regions, questions, calibration } = study;
  if (study.invented && study.notice === undefined)
    refuse(sink, ["notice"], {
      found: "an invented study without a notice",
      accepted: 'text that says so on every page, e.g. "Invented data for demonstration."',
    });
  if ((study.tracer === undefined) === (study.tracerCurve === undefined))
    refuse(sink, ["tracer"], {
      found: study.tracer === undefined ? "no tracer" : 'both "tracer" and "tracerCurve"',
      accepted: 'one of them: "tracer": "tracer.json", or "tracerCurve": { "curve": "tracer/curve.txt" }',
    });
  refuseDuplicates(sink, scans, { list: "scans", field: "name", label: ({ name }) => name });
  refuseDuplicates(sink, regions, { list: "regions", field: "label", label: ({ label }) => label });
  const labels = regions.map(({ label }) => label);
  questions.forEach(({ region }, index) => {
    refuseUnknown(sink, ["questions", index, "region"], { name: region, known: labels, what: "region" });
  });
  if (calibration !== undefined) refuseLooseVials(calibration.vials, scans, sink);
}

function refuseLooseVials(
  vials: NonNullable<StudyReferences["calibration"]>["vials"],
  scans: StudyReferences["scans"],
  sink: z.core.$RefinementCtx,
): void {
  const known = scans.filter(({ role }) => role === "calibration").map(({ name }) => name);
  const labels = new Set<string>();
  vials.forEach(({ label, scan }, index) => {
    if (labels.has(label))
      refuse(sink, ["calibration", "vials", index, "label"], {
        found: `"${label}" a second time`,
        accepted: "a label of its own for each vial",
      });
    labels.add(label);
    if (scan !== undefined)
      refuseUnknown(sink, ["calibration", "vials", index, "scan"], { name: scan, known, what: "calibration scan" });
  });
}

function refuseUnknown(
  sink: z.core.$RefinementCtx,
  path: readonly (string | number)[],
  { name, known, what }: { readonly name: string; readonly known: readonly string[]; readonly what: string },
): void {
  if (known.includes(name)) return;
  refuse(sink, path, {
    code: "UnknownName",
    found: `the ${what} "${name}", which this study does not have`,
    accepted: known.length === 0 ? `a ${what}, once the study has one` : oneOfNames(name, known),
  });
}
