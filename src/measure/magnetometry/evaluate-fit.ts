import { relativeMagnetisation } from "../../physics/index.js";
import { chainProblem } from "./chain-model.js";
import type { MagnetisationCurve } from "./curve.js";
import { requireConditions } from "./curve-requirements.js";
import type { CurveFit } from "./fit-result.js";
import type { FreeFormFit } from "./free-form-report.js";
import { logNormalCurve } from "./log-normal-model.js";
import { sizesOfFit } from "./sizes-of-fit.js";

/** What a fit has to hold to be evaluated elsewhere; without a model it is a log-normal. */
export type EvaluableFit = Pick<CurveFit, "parameters"> &
  Partial<Pick<CurveFit, "model">> & { readonly distribution?: FreeFormFit["distribution"] };

/**
 * The fitted model at other fields, e.g. on a fine grid for a figure; unit of the curve.
 * A chain is drawn on its initial branch, or on that of a curve of one branch.
 */
export function evaluateFit(fit: EvaluableFit, curve: MagnetisationCurve, field_T: Float64Array): Float64Array {
  const conditions = requireConditions(curve);
  const values = Float64Array.from(fit.parameters, ({ value }) => value);
  const { model = "log-normal-langevin" } = fit;
  if (model === "log-normal-langevin") return logNormalCurve(field_T, values, conditions);
  if (model === "mean-field-chain") {
    const branch = curve.branch === "ascending" || curve.branch === "descending" ? curve.branch : "initial";
    const parts = [{ branch, rows: Int32Array.from(field_T.keys()), field_T }] as const;
    return chainProblem(field_T, parts, conditions).model(values, new Float64Array(field_T.length));
  }
  const { coreSaturation_A_per_m: saturation_A_per_m, temperature_K } = conditions;
  const sizes = sizesOfFit({ ...fit, model });
  const relative = relativeMagnetisation(field_T, { sizes, saturation_A_per_m, temperature_K });
  const named = (name: string) => fit.parameters.find((parameter) => parameter.name === name)?.value ?? 0;
  const [S, chi] = [named("saturation"), named("background-slope")];
  return relative.map((m, i) => S * m + chi * field_T[i]);
}
