import type { Formula } from "../../units/index.js";
import { momentPerIron_A_m2_per_kg } from "../particle/core.js";
import {
  adviseOnCore,
  coreDiameterInput,
  densityInput,
  ironMassFractionInput,
  saturationInput,
  temperatureInput,
} from "../particle/formula-inputs.js";
import { initialSlope_per_T, type ParticleEnsemble } from "../particle/magnetisation.js";
import { driveAmplitudeInput, driveFrequencyInput } from "./field-free-motion.js";

/**
 * Largest rate of change of the moment of a point tracer at the field-free point, sinusoidal drive.
 *   (dm/dt)_peak = m_sat d(M/Ms)/d(mu0H) at 0 x 2 pi f A
 * Exact for an ideal tracer: slope and field rate are both largest as the drive passes zero.
 *
 * @param saturatedMoment_A_m2  moment of all its particles when aligned, A.m2
 * @param ensemble  its particles
 * @param drive.amplitude_T  *peak* mu0H of the drive, T
 * @returns A.m2/s
 * Valid for   no relaxation; the tracer at the centre of the drive
 * Source      Goodwill et al., IEEE TMI 29:1851 (2010), signal equation; from memory, derived
 * Checked by  checks/handbook
 */
export function peakMomentRate_A_m2_per_s(
  saturatedMoment_A_m2: number,
  ensemble: ParticleEnsemble,
  { amplitude_T, frequency_Hz }: { amplitude_T: number; frequency_Hz: number },
): number {
  return saturatedMoment_A_m2 * initialSlope_per_T(ensemble) * 2 * Math.PI * frequency_Hz * amplitude_T;
}

export const peakMomentRateFormula: Formula = {
  name: "peak-moment-rate",
  subject: "signal",
  summary: "largest rate of change of a point tracer's moment at the field-free point",
  equation: "(dm/dt)_peak = m_Fe Ms/(density w_Fe) (xi_0/3) 2 pi f, xi_0 = m A / (kB T)",
  inputs: [
    {
      name: "iron-mass",
      kind: "mass",
      summary: "mass of Fe in the point",
      example: "1 ng",
      minimum: 0,
      aboveMinimum: true,
    },
    coreDiameterInput,
    saturationInput,
    temperatureInput,
    driveAmplitudeInput,
    driveFrequencyInput,
    densityInput,
    ironMassFractionInput,
  ],
  outputs: [{ name: "moment-rate", kind: "momentRate", unit: "A.m2/s", summary: "peak dm/dt along the drive" }],
  validity: "equal, independent cores without relaxation: an upper bound for a real tracer",
  source: { text: "Goodwill et al., IEEE TMI 29:1851 (2010), signal equation at its peak", status: "derived" },
  compute: (inputs) => {
    const saturation_A_per_m = inputs.saturation;
    const material = { density_kg_per_m3: inputs.density, ironMassFraction: inputs["iron-mass-fraction"] };
    const saturatedMoment_A_m2 = inputs["iron-mass"] * momentPerIron_A_m2_per_kg(saturation_A_per_m, material);
    const ensemble: ParticleEnsemble = {
      sizes: { kind: "single", diameter_m: inputs["core-diameter"] },
      saturation_A_per_m,
      temperature_K: inputs.temperature,
    };
    const drive = { amplitude_T: inputs["drive-amplitude"], frequency_Hz: inputs.frequency };
    return { "moment-rate": peakMomentRate_A_m2_per_s(saturatedMoment_A_m2, ensemble, drive) };
  },
  advise: adviseOnCore,
};
