import { coreMaterials, langevin, xiPerTesla } from "../../physics/index.js";
import type { BranchComparison } from "./branches.js";
import type { MagnetisationCurve } from "./curve.js";
import type { FitAdvisory } from "./fit-advisory.js";

/** Where the numbers come from: what was assumed, and what was odd in the file. */
export function originAdvisories({ assumptions, findings }: Pick<MagnetisationCurve, "assumptions" | "findings">) {
  const assumed = assumptions.map(
    ({ fact, value, note }): FitAdvisory => ({
      code: "assumed-fact",
      message: `assumed: ${fact} = ${value} (${note})`,
    }),
  );
  const found = findings.map((finding): FitAdvisory => ({ code: "file-finding", message: `in the file: ${finding}` }));
  return [...assumed, ...found];
}

/** A model without hysteresis fitted to a curve whose branches differ. */
export function branchAdvisories(
  { magnetisationUnit }: Pick<MagnetisationCurve, "magnetisationUnit">,
  comparison: BranchComparison | undefined,
): FitAdvisory[] {
  if (!comparison?.differ) return [];
  const message = `${branchWords(comparison, magnetisationUnit)}; a model without hysteresis was fitted to both, so that its parameters lie between the branches and its uncertainties do not cover that: fit one branch, an anhysteretic curve, or a chain`;
  return [{ code: "branches-differ", message }];
}

/** By how much the branches differ, in words. */
export function branchWords(comparison: BranchComparison, unit: string): string {
  const { meanDifference, standardUncertainty, coerciveField_T, remanence, pValue } = comparison;
  const parts = [
    `they differ by ${meanDifference.toPrecision(3)} +- ${standardUncertainty.toPrecision(2)} ${unit} on average (p = ${pValue.toPrecision(2)})`,
    ...(coerciveField_T ? [`coercive field ${(coerciveField_T.value * 1e3).toPrecision(3)} mT`] : []),
    ...(remanence ? [`remanence ${remanence.value.toPrecision(3)} ${unit}`] : []),
  ];
  return `the ascending and descending branches are not the same curve: ${parts.join(", ")}`;
}

/** What a loop means for a model without hysteresis, as far as the curve's own word for its branch goes. */
export function loopAdvisory({ branch }: Pick<MagnetisationCurve, "branch">): FitAdvisory[] {
  return branch === "loop" ? [{ code: "hysteresis-ignored", message: loopText }] : [];
}

const loopText =
  "a loop was fitted by an equilibrium curve, which has no hysteresis: fit one branch, or an anhysteretic curve";

/** Below this share of saturation at the largest field, saturation is an extrapolation. */
const reachedShare = 0.8;

/** Does the largest field saturate the cores that carry half of the magnetisation? */
export function reachAdvisory(
  { field_T, coreSaturation_A_per_m, temperature_K }: MagnetisationCurve,
  volumeMedian_m: number | undefined,
): FitAdvisory[] {
  if (volumeMedian_m === undefined || coreSaturation_A_per_m === undefined || temperature_K === undefined) return [];
  const largest_T = field_T.reduce((most, field) => Math.max(most, Math.abs(field)), 0);
  const share = langevin(largest_T * xiPerTesla(volumeMedian_m, coreSaturation_A_per_m, temperature_K));
  if (!(share < reachedShare)) return [];
  const message = `the largest field (${(largest_T * 1e3).toPrecision(3)} mT) takes the volume-median core to ${(100 * share).toFixed(0)} % of saturation: saturation is extrapolated, and trades off against the diameter (their product S d^3 is what small fields fix)`;
  return [{ code: "saturation-not-reached", message }];
}

/** How far the two saturations may lie apart before it is said: 5 % of it moves a diameter by 1.7 %. */
const saturationAgreement = 0.05;

/**
 * The fitted saturation, as a volume magnetisation of the core, against the one that was assumed to size the cores: iron
 * masses follow the first, diameters the second.
 */
export function saturationAdvisory(curve: MagnetisationCurve, fittedSaturation: number): FitAdvisory[] {
  const perVolume = saturationPerVolume(curve, fittedSaturation);
  const { coreSaturation_A_per_m: stated } = curve;
  if (perVolume === undefined || stated === undefined || !(perVolume > 0)) return [];
  const ratio = perVolume / stated;
  if (Math.abs(ratio - 1) <= saturationAgreement) return [];
  const percent = (value: number) => `${Math.abs(100 * value).toPrecision(2)} % ${value > 0 ? "larger" : "smaller"}`;
  const message = `the fitted saturation is that of a core of ${kA(perVolume)}, ${percent(ratio - 1)} than the core saturation of ${kA(stated)} that sized the cores: moments and iron masses follow the first, diameters the second; with the first the diameters would be ${percent(ratio ** (-1 / 3) - 1)}`;
  return [{ code: "inconsistent-saturation", message }];
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
