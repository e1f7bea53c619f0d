import type { DocumentProblem } from "../../document-error.js";
import { resistanceOf_Ohm } from "../../scanner/coil-needs.js";
import type { ScannerModel } from "../../scanner/scanner-model.js";
import { type Need, unmetNeeds } from "./problem.js";

/** The selection field is on for the whole raster: a coil that heats more than its cooling carries away runs no scan. */
export function selectionProblems({ selectionField }: ScannerModel): DocumentProblem[] {
  const needs = (selectionField.sources?.coils ?? []).map(({ name, current_A, coil }): Need => {
    const resistance_Ohm = resistanceOf_Ohm(coil);
    return {
      path: "raster",
      what: "a steady heat of",
      where: `in selection coil ${name} of this scanner`,
      kind: "power",
      needed: resistance_Ohm === null ? null : resistance_Ohm * current_A ** 2,
      available: coil.cooling_W,
    };
  });
  return unmetNeeds(needs);
}
