import type { LeastSquaresResult } from "../../numerics/index.js";
import type { FitAdvisory } from "../magnetometry/fit-advisory.js";
import { plainParameters, reportFit } from "../magnetometry/fit-report.js";
import type { DerivedValue, TracerFit } from "../magnetometry/fit-result.js";
import { type FitBlock, undeterminedParameters } from "./fit-block.js";

/** A block fitted alone, in the shape of all fits. */
export function reportBlock(
  block: FitBlock,
  fit: LeastSquaresResult,
  {
    derived = [],
    advisories = [],
    reach,
  }: {
    readonly derived?: readonly DerivedValue[];
    readonly advisories?: readonly FitAdvisory[];
    /** Beyond this uncertainty a parameter counts as not determined; default its own value. */
    readonly reach?: (name: string, value: number) => number;
  } = {},
): TracerFit {
  return reportFit(fit, {
    model: block.model,
    equation: block.equation,
    weighting: "number",
    parameters: plainParameters(
      fit,
      block.parameters.map(({ unit }) => unit),
    ),
    derived,
    hasSigma: block.sigma !== undefined,
    dataUnit: block.dataUnit,
    undetermined: undeterminedParameters(fit, reach),
    held: [],
    rowName: block.rowName,
    advisories: () => [...advisories, ...block.advisories],
  });
}
