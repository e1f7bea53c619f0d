import { type FreeFormSolution, type FreeFormSystem, solveFreeForm } from "./free-form-system.js";

/** How the weight of the smoothness penalty is chosen, or a relative weight of one's own. */
export type Regularisation =
  | "automatic"
  | "discrepancy"
  | "cross-validation"
  | "l-curve"
  | { readonly relativeWeight: number };

export interface ChosenWeight {
  readonly solution: FreeFormSolution;
  readonly method: "discrepancy" | "cross-validation" | "l-curve" | "given";
  /** Why this one, in words. */
  readonly reason: string;
  /** False where sigma is stated but the data do not bear it out. */
  readonly sigmaIsBelieved: boolean;
}

/** chi2 per degree of freedom, by a choice that does not use sigma, within which sigma is believed. */
const believed = { low: 0.5, high: 2 } as const;

/** Relative weights tried: 1e-12 (a comb of sizes) to 1e2 (one hump), six a decade. */
const weights = Array.from({ length: 85 }, (_, k) => 10 ** (-12 + k / 6));

/**
 * Weight of the smoothness penalty.
 *   discrepancy       chi2 = n: as smooth as sigma allows
 *   cross-validation  least n chi2 / (n - edf)^2: needs no sigma
 *   l-curve           corner of log roughness against log chi2
 *   automatic         the smoother of the first two where sigma is believed, that is where chi2/(n - edf) by cross-validation
 *                     lies in 0.5 to 2; else cross-validation
 * Why the smoother: where the noise happens to exceed n, chi2 = n can only be met by fitting noise, and the smallest cores
 * then trade with the background (2000 invented curves: saturation scattered by 12 % instead of 4 %). chi2 = n - edf was
 * tried instead of n: less bias (2.1 % instead of 3.0 % of the 90 % diameter), but three times the scatter in saturation.
 *
 * Source      Morozov (1966); Golub, Heath & Wahba, Technometrics 21:215 (1979); Hansen, SIAM Rev. 34:561 (1992); from
 *             memory
 * Checked by  free-form-fit.test.ts
 */
export function chooseWeight(
  system: FreeFormSystem,
  data: Float64Array,
  { regularisation, hasSigma }: { readonly regularisation: Regularisation; readonly hasSigma: boolean },
): ChosenWeight {
  if (typeof regularisation === "object") {
    const solution = solveFreeForm(system, data, regularisation);
    return {
      solution,
      method: "given",
      reason: "given by the caller",
      sigmaIsBelieved: isBelieved(solution, hasSigma),
    };
  }
  const path = solutionPath(system, data);
  const validated = crossValidated(path, system.rows);
  const sigmaIsBelieved = isBelieved(validated, hasSigma);
  const perDegree = (validated.chiSquared / degreesOf(validated)).toPrecision(2);
  if (regularisation === "l-curve")
    return { solution: corner(path), method: "l-curve", reason: "asked for", sigmaIsBelieved };
  if (regularisation === "cross-validation" || (regularisation === "automatic" && !sigmaIsBelieved)) {
    const why =
      regularisation !== "automatic"
        ? "asked for"
        : hasSigma
          ? `sigma is not borne out: chi2/dof ${perDegree} by a choice that does not use it`
          : "no sigma is stated";
    return { solution: validated, method: "cross-validation", reason: why, sigmaIsBelieved };
  }
  const solution = atDiscrepancy(system, data, path);
  if (regularisation === "automatic" && validated.relativeWeight > solution.relativeWeight) {
    const why = "chi2 = n would fit the noise, which happens to be large: cross-validation stops before";
    return { solution: validated, method: "cross-validation", reason: why, sigmaIsBelieved };
  }
  const reason = regularisation === "automatic" ? "sigma is stated and borne out" : "asked for";
  return { solution, method: "discrepancy", reason, sigmaIsBelieved };
}

function isBelieved(solution: FreeFormSolution, hasSigma: boolean): boolean {
  const perDegree = solution.chiSquared / degreesOf(solution);
  return hasSigma && perDegree > believed.low && perDegree < believed.high;
}

const degreesOf = ({ residuals, effectiveParameters }: FreeFormSolution): number =>
  Math.max(1, residuals.length - effectiveParameters);

function solutionPath(system: FreeFormSystem, data: Float64Array): FreeFormSolution[] {
  const path: FreeFormSolution[] = [];
  // From smooth to rough: each active set starts the next.
  for (const relativeWeight of [...weights].reverse())
    path.push(solveFreeForm(system, data, { relativeWeight, passive: path[path.length - 1]?.passive }));
  return path.reverse();
}

function crossValidated(path: readonly FreeFormSolution[], n: number): FreeFormSolution {
  const score = (each: FreeFormSolution) => (n * each.chiSquared) / degreesOf(each) ** 2;
  return path.reduce((best, each) => (score(each) < score(best) ? each : best));
}

/** Where chi2 passes n, by bisection of the logarithm between two weights of the path. */
function atDiscrepancy(
  system: FreeFormSystem,
  data: Float64Array,
  path: readonly FreeFormSolution[],
): FreeFormSolution {
  const isAbove = ({ chiSquared }: FreeFormSolution) => chiSquared > system.rows;
  const above = path.findIndex(isAbove);
  if (above === 0) return path[0];
  if (above < 0) return path[path.length - 1];
  let [low, high] = [path[above - 1], path[above]];
  for (let k = 0; k < 20; k++) {
    const relativeWeight = Math.sqrt(low.relativeWeight * high.relativeWeight);
    const middle = solveFreeForm(system, data, { relativeWeight, passive: low.passive });
    if (isAbove(middle)) high = middle;
    else low = middle;
  }
  return low;
}

/** The point of largest curvature of (ln chi2, ln roughness) along ln weight. */
function corner(path: readonly FreeFormSolution[]): FreeFormSolution {
  const x = path.map(({ chiSquared }) => Math.log(chiSquared));
  const y = path.map(({ roughness }) => Math.log(roughness));
  const reach = 3; // half a decade: the steps of the active set make neighbouring points rough
  let [best, largest] = [reach, Number.NEGATIVE_INFINITY];
  for (let i = reach; i < path.length - reach; i++) {
    const first = (v: readonly number[]) => (v[i + reach] - v[i - reach]) / 2;
    const second = (v: readonly number[]) => v[i + reach] - 2 * v[i] + v[i - reach];
    const curvature = (first(x) * second(y) - second(x) * first(y)) / (first(x) ** 2 + first(y) ** 2) ** 1.5;
    if (curvature > largest) [best, largest] = [i, curvature];
  }
  return path[best];
}
