import type { LeastSquaresResult, RunsTest } from "../../numerics/index.js";
import { coreMaterials } from "../../physics/index.js";
import type { MagnetisationCurve } from "./curve.js";
import type { FitAdvisory } from "./fit-result.js";

/** chi2/dof outside these says that sigma is not the scatter about the model; either is far beyond chance at 20 dof. */
const reducedChiSquaredRange = { low: 0.5, high: 2 } as const;
/** A runs test this improbable is not chance. */
const runsLevel = 0.01;
/** Above this a parameter's value is little more than a statement about another's. */
const correlationLimit = 0.95;

export interface FitNumbers {
  readonly fit: LeastSquaresResult;
  readonly runs: RunsTest;
  readonly lag1: number;
  readonly residualScale: number;
  readonly hasSigma: boolean;
  /** Names of parameters that the data do not determine. */
  readonly undetermined: readonly string[];
  /** Parameters that the caller held on purpose. */
  readonly held: readonly string[];
}

const advisory = (code: FitAdvisory["code"], message: string): FitAdvisory => ({ code, message });
const short = (value: number): string => value.toPrecision(2);

const notStatistical = "the quoted uncertainties and covariance are not trustworthy as statistical ones";

/** What sigma and the residuals say about each other. */
function noiseAdvisories({ fit, runs, lag1, residualScale, hasSigma }: FitNumbers): FitAdvisory[] {
  const { reducedChiSquared } = fit;
  const areCorrelated = runs.isInformative && runs.pTwoSided < runsLevel;
  const isSmall = hasSigma && reducedChiSquared < reducedChiSquaredRange.low;
  const isLarge = hasSigma && reducedChiSquared > reducedChiSquaredRange.high;
  const list: FitAdvisory[] = [];
  const runsText = `${runs.runs} runs of sign where ${runs.expectedRuns.toFixed(1)} are expected (p = ${short(runs.pTwoSided)}), lag-1 correlation ${lag1.toFixed(2)}`;
  if (hasSigma && (isSmall || areCorrelated)) {
    const why = [
      isSmall ? `chi2/dof is ${short(reducedChiSquared)}` : "",
      areCorrelated ? `the residuals are correlated (${runsText})` : "",
    ].filter((part) => part !== "");
    list.push(
      advisory(
        "sigma-not-independent-noise",
        `the sd column is not independent noise: ${why.join(" and ")}; ${notStatistical}`,
      ),
    );
  }
  if (areCorrelated) {
    const scale = `Were the residuals first-order autoregressive noise, uncertainties would be about ${short(residualScale)} times those quoted`;
    const text = `the model does not describe the curve to within its scatter: ${runsText}. ${scale}`;
    list.push(advisory("correlated-residuals", text));
  }
  if (!hasSigma) {
    const text =
      "the file has no sd column: all values count alike, uncertainties follow the scatter of the residuals, and chi2/dof is 1 by construction (it says nothing about the fit)";
    list.push(advisory("no-sigma", text));
  }
  if (isLarge) {
    const text = `chi2/dof is ${short(reducedChiSquared)}: the sd column is too small or the model does not fit; ${notStatistical}`;
    list.push(advisory("sigma-too-small", text));
  }
  return list;
}

function parameterAdvisories({ fit, held, undetermined }: FitNumbers): FitAdvisory[] {
  const { names, correlation, atBound, parameters, outcome, reason } = fit;
  const p = names.length;
  const list: FitAdvisory[] = [];
  if (outcome !== "converged") list.push(advisory("not-converged", `the fit ended early (${outcome}): ${reason}`));
  if (undetermined.length > 0) {
    const text = `the data do not determine ${undetermined.join(", ")} (uncertainty above the value, or none at all); a wider range of fields, or holding one of them, would`;
    list.push(advisory("not-identifiable", text));
  }
  for (const [j, name] of names.entries()) {
    if (!atBound[j] || held.includes(name)) continue;
    const text = `${name} ended at its bound (${parameters[j].toPrecision(4)}): it has no two-sided uncertainty, and those of the others hold for this value`;
    list.push(advisory("at-bound", text));
  }
  for (let a = 0; a < p; a++)
    for (let b = a + 1; b < p; b++) {
      const r = correlation[a * p + b];
      if (!(Math.abs(r) > correlationLimit)) continue;
      const text = `${names[a]} and ${names[b]} are correlated by ${r.toFixed(3)}: use them together, with their covariance`;
      list.push(advisory("strongly-correlated-parameters", text));
    }
  return list;
}

function curveAdvisories({ assumptions, findings, branch }: MagnetisationCurve): FitAdvisory[] {
  const assumed = assumptions.map(({ fact, value, note }) =>
    advisory("assumed-fact", `assumed: ${fact} = ${value} (${note})`),
  );
  const found = findings.map((finding) => advisory("file-finding", `in the file: ${finding}`));
  const loop =
    "a loop was fitted by an equilibrium curve, which has no hysteresis: fit one branch, or an anhysteretic curve";
  return [...assumed, ...found, ...(branch === "loop" ? [advisory("hysteresis-ignored", loop)] : [])];
}

/** How far the two saturations may lie apart before it is said: 5 % of it moves a diameter by 1.7 %. */
const saturationAgreement = 0.05;

/**
 * The fitted saturation, as a volume magnetisation of the core, against the one that was assumed to size the cores: iron
 * masses follow the first, diameters the second.
 */
function saturationAdvisory(curve: MagnetisationCurve, { fit }: FitNumbers): FitAdvisory[] {
  const perVolume = saturationPerVolume(curve, fit.parameters[0]);
  const { coreSaturation_A_per_m: stated } = curve;
  if (perVolume === undefined || stated === undefined || !(perVolume > 0)) return [];
  const ratio = perVolume / stated;
  if (Math.abs(ratio - 1) <= saturationAgreement) return [];
  const percent = (value: number) => `${Math.abs(100 * value).toPrecision(2)} % ${value > 0 ? "larger" : "smaller"}`;
  const text = `the fitted saturation is that of a core of ${kA(perVolume)}, ${percent(ratio - 1)} than the core saturation of ${kA(stated)} that sized the cores: moments and iron masses follow the first, diameters the second; with the first the diameters would be ${percent(ratio ** (-1 / 3) - 1)}`;
  return [advisory("inconsistent-saturation", text)];
}

const kA = (saturation_A_per_m: number): string => `${(saturation_A_per_m / 1e3).toPrecision(3)} kA/m`;

/** A/m of core, where the basis and a known material fix it. */
function saturationPerVolume({ basis, coreMaterial }: MagnetisationCurve, saturation: number): number | undefined {
  if (basis === "per-core-volume") return saturation;
  if (coreMaterial !== "magnetite" && coreMaterial !== "maghemite") return undefined;
  const { density_kg_per_m3: density, ironMassFraction } = coreMaterials[coreMaterial];
  if (basis === "per-oxide-mass") return saturation * density;
  if (basis === "per-iron-mass") return saturation * density * ironMassFraction;
  return undefined;
}

/** Everything that a reader of the fit has to know beside its numbers, the gravest first. */
export function fitAdvisories(curve: MagnetisationCurve, numbers: FitNumbers): FitAdvisory[] {
  return [
    ...noiseAdvisories(numbers),
    ...parameterAdvisories(numbers),
    ...saturationAdvisory(curve, numbers),
    ...curveAdvisories(curve),
  ];
}
