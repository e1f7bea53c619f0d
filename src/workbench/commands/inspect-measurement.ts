import { existsSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { parseCurveDescriptor, readCurve } from "../../formats/index.js";
import { readInput, readTextInput } from "../store/read-input.js";
import type { Inspection } from "./inspection.js";

export const isCurveName = (file: string): boolean => /\.(txt|csv|tsv|dat)$/i.test(file);

/** Names under which a curve's descriptor is looked for, beside it. */
function descriptorBeside(file: string): string | undefined {
  return [`${file}.descriptor.json`, join(dirname(file), "descriptor.json")].find((candidate) => existsSync(candidate));
}

/** A table of field and magnetisation with its descriptor: the one named, or one beside it. */
export function inspectCurve(file: string, named?: string): Omit<Inspection, "file" | "sound"> {
  const beside = named ?? descriptorBeside(file);
  const descriptor = beside === undefined ? undefined : parseCurveDescriptor(readTextInput(beside), { file: beside });
  const curve = readCurve(readInput(file), descriptor, { file });
  const { name, field_T, magnetisationUnit, basis, branch, temperature_K, sigma, assumptions, findings } = curve;
  const ends = field_T.reduce(([low, high], b) => [Math.min(low, b), Math.max(high, b)], [field_T[0], field_T[0]]);
  return {
    format: "magnetisation curve",
    summary: {
      name,
      points: field_T.length,
      field_T: ends,
      magnetisationUnit,
      basis,
      ...(branch === undefined ? {} : { branch }),
      ...(temperature_K === undefined ? {} : { temperature_K }),
      hasUncertainties: sigma !== undefined,
      descriptor: beside === undefined ? "none" : basename(beside),
      assumptions,
      findings,
    },
  };
}
