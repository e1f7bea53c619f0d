import { compareBranches } from "./branches.js";
import type { MagnetisationCurve } from "./curve.js";
import {
  branchAdvisories,
  loopAdvisory,
  originAdvisories,
  reachAdvisory,
  saturationAdvisory,
} from "./curve-advisories.js";
import type { FitNumbers } from "./fit-advisories.js";
import type { FitAdvisory } from "./fit-advisory.js";
import { type FitDescription, type FitEnd, reportFit } from "./fit-report.js";
import type { CurveFit, CurveModel } from "./fit-result.js";

export interface CurveFitDescription
  extends Omit<FitDescription, "model" | "hasSigma" | "dataUnit" | "rowName" | "advisories"> {
  readonly model: CurveModel;
  /** True for a model that follows the branches itself. */
  readonly hasHysteresis?: boolean;
  readonly advisories?: (numbers: FitNumbers) => readonly FitAdvisory[];
}

/** A fit of a magnetisation curve in the shape of all fits, with its branches and the advisories of its origin. */
export function reportCurveFit(
  curve: MagnetisationCurve,
  fit: FitEnd,
  { advisories = () => [], hasHysteresis = false, ...description }: CurveFitDescription,
): CurveFit {
  const branches = compareBranches(curve);
  const saturation = description.parameters.values[description.parameters.names.indexOf("saturation")];
  const named = description.parameters.names.indexOf("volume-weighted-median-diameter");
  const volumeMedian_m =
    named >= 0
      ? description.parameters.values[named]
      : description.derived.find(({ name }) => name === "volume-weighted-median-diameter")?.value;
  const report = reportFit(fit, {
    ...description,
    hasSigma: curve.sigma !== undefined,
    dataUnit: curve.magnetisationUnit,
    rowName: (row) => `row ${row + 1} (${(curve.field_T[row] * 1e3).toPrecision(4)} mT)`,
    advisories: (numbers) => [
      ...advisories(numbers),
      ...reachAdvisory(curve, volumeMedian_m),
      ...saturationAdvisory(curve, saturation),
      ...(hasHysteresis ? [] : branchAdvisories(curve, branches)),
      ...originAdvisories(curve),
      ...(hasHysteresis ? [] : loopAdvisory(curve)),
    ],
  });
  return { ...report, model: description.model, ...(branches === undefined ? {} : { branches }) };
}
