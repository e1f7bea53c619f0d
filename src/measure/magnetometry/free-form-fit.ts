import { FerruleError } from "../../errors.js";
import { finishSteps, type Steps, stream } from "../../numerics/index.js";
import { xiPerTesla } from "../../physics/index.js";
import type { MagnetisationCurve } from "./curve.js";
import { requireConditions, requireData } from "./curve-requirements.js";
import { type Drawn, type FreeFormFit, freeFormReport, readSolution } from "./free-form-report.js";
import { type FreeFormSystem, freeFormSystem, type SmoothnessPenalty, solveFreeForm } from "./free-form-system.js";
import { type ChosenWeight, chooseWeight, type Regularisation } from "./free-form-weight.js";
import { type CoreConditions, diameterBounds_m } from "./log-normal-model.js";

export interface FreeFormFitOptions {
  /** Even logarithmic grid of diameters; by default 60 from what the fields can tell. */
  readonly grid?: { readonly from_m: number; readonly to_m: number; readonly count: number };
  /** How the smoothness is weighed; see `chooseWeight`. */
  readonly regularisation?: Regularisation;
  /** What is kept small: the second difference over ln d (a smooth distribution) or the amplitudes themselves. */
  readonly penalty?: SmoothnessPenalty;
  readonly background?: "free" | "none";
  /** Parametric bootstrap: repetitions of the fit with new noise on the fitted curve. */
  readonly replicas?: number;
  readonly seed?: number;
}

/**
 * Size distribution of independent cores without a prescribed shape.
 *   M(B) = sum_j a_j L(k_j B) + chi B,  a_j >= 0;  ||(M - fit)/sigma||^2 + weight * roughness of a, least
 * Biased by design: it is never narrower than the smoothness and the fields allow, and small shares are pushed to 0. So
 * its uncertainties are quantiles of replicas (new noise on the fitted curve, the same weight), the part of the bias that
 * they show is stated, and no information criterion is.
 *
 * @param curve  as `fitLogNormal`
 * @returns saturation, volume-weighted median, background; the distribution by volume and by number; chosen weight with its
 *          effective number of parameters
 *
 * Valid for   equilibrium curves without interaction; resolves two populations about a factor 2 apart at 1 % noise
 * Source      Tikhonov with non-negativity: common practice
 * Checked by  checks/tracer-fit (scipy.optimize.nnls), campaigns/tracer-parameter-coverage (bias, coverage)
 */
export function fitFreeForm(curve: MagnetisationCurve, options: FreeFormFitOptions = {}): FreeFormFit {
  return finishSteps(freeFormSteps(curve, options));
}

/** The same in steps: the replicas of a long curve take seconds. */
export function* freeFormSteps(curve: MagnetisationCurve, options: FreeFormFitOptions = {}): Steps<FreeFormFit> {
  const {
    regularisation = "automatic",
    penalty = "second-difference",
    background = "free",
    replicas = 200,
    seed = 1,
  } = options;
  const conditions = requireConditions(curve);
  requireData(curve, 4);
  const diameter_m = sizeGrid(curve.field_T, conditions, options.grid);
  const system = freeFormSystem(curve, conditions, { diameter_m, penalty, hasBackground: background === "free" });
  const hasSigma = curve.sigma !== undefined;
  const data = curve.magnetisation.map((value, i) => value / (curve.sigma?.[i] ?? 1));
  const chosen = chooseWeight(system, data, { regularisation, hasSigma });
  yield 0.3;
  const drawn = yield* draw(system, data, { chosen, replicas, seed, hasSigma });
  return freeFormReport(curve, { system, chosen, drawn, penalty, seed });
}

/** Sizes that the fields can tell: xi from 1 at the largest field to 10 at the smallest, at least a factor of 4. */
function sizeGrid(field_T: Float64Array, conditions: CoreConditions, grid: FreeFormFitOptions["grid"]): Float64Array {
  const sizes = field_T.map(Math.abs).filter((value) => value > 0);
  const [low, high] = [sizes.reduce((a, b) => Math.min(a, b)), sizes.reduce((a, b) => Math.max(a, b))];
  const perCubicMetre = xiPerTesla(1, conditions.coreSaturation_A_per_m, conditions.temperature_K);
  const from_m = grid?.from_m ?? Math.max(diameterBounds_m.lower, Math.cbrt(1 / (perCubicMetre * high)));
  const to_m =
    grid?.to_m ?? Math.min(diameterBounds_m.upper, Math.max(4 * from_m, Math.cbrt(10 / (perCubicMetre * low))));
  const count = grid?.count ?? 60;
  if (!(from_m > 0 && to_m > from_m && Number.isInteger(count) && count >= 5 && count <= 400))
    throw new FerruleError("InvalidValue", {
      path: "grid",
      found: `${count} diameters from ${from_m} m to ${to_m} m`,
      accepted: "5 to 400 diameters from a smaller to a larger one, e.g. 60 from 2e-9 m to 50e-9 m",
    });
  return Float64Array.from({ length: count }, (_, j) => from_m * (to_m / from_m) ** (j / (count - 1)));
}

function* draw(
  system: FreeFormSystem,
  data: Float64Array,
  { chosen, replicas, seed, hasSigma }: { chosen: ChosenWeight; replicas: number; seed: number; hasSigma: boolean },
): Steps<Drawn> {
  const { solution } = chosen;
  const dof = Math.max(1, data.length - solution.effectiveParameters);
  // Without a sigma that is borne out, the scatter about the fit is the noise.
  const noise = hasSigma && chosen.sigmaIsBelieved ? 1 : Math.sqrt(solution.chiSquared / dof);
  const fitted = data.map((value, i) => value - solution.residuals[i]);
  const list: number[][] = [];
  const shares: Float64Array[] = [];
  for (let k = 0; k < replicas; k++) {
    const source = stream(seed, 0, k);
    const again = solveFreeForm(
      system,
      fitted.map((value) => value + noise * source.normal()),
      { relativeWeight: solution.relativeWeight, passive: solution.passive },
    );
    const total = again.amplitude.reduce((sum, value) => sum + value, 0);
    list.push(readSolution(again, system.diameter_m));
    shares.push(again.amplitude.map((value) => value / total));
    if (k % 10 === 9) yield 0.3 + (0.7 * (k + 1)) / replicas;
  }
  return { readings: list, shares };
}
