import type { Formula } from "../../units/index.js";
import { amplitudeInput, frequencyInput, radiusInput, standingAdvice } from "../formula-inputs.js";
import { axialCylinderHeating, axialField_V_per_m } from "./axial-cylinder.js";

/** Peak and mean-square rate of a sine. */
function sineRate(amplitude_T: number, frequency_Hz: number) {
  const peakRate_T_per_s = 2 * Math.PI * frequency_Hz * amplitude_T;
  return { peakRate_T_per_s, meanSquareRate_T2_per_s2: peakRate_T_per_s ** 2 / 2 };
}

export const cylinderSarFormula: Formula = {
  name: "cylinder-sar",
  subject: "safety",
  summary: "heating of a homogeneous cylinder by a sinusoidal field along it",
  equation: "mean sigma w^2 B^2 R^2/(16 rho), surface sigma w^2 B^2 R^2/(8 rho), E = w B R/2, w = 2 pi f",
  inputs: [
    frequencyInput,
    amplitudeInput,
    radiusInput,
    {
      name: "conductivity",
      kind: "conductivity",
      summary: "of the tissue at this frequency",
      example: "0.36 S/m",
      minimum: 0,
      aboveMinimum: true,
    },
    {
      name: "density",
      kind: "density",
      summary: "of the tissue",
      example: "1000 kg/m3",
      default: "1000 kg/m3",
      minimum: 0,
      aboveMinimum: true,
    },
  ],
  outputs: [
    {
      name: "mean",
      kind: "specificAbsorptionRate",
      unit: "W/kg",
      summary: "mean over the section, average over the period",
    },
    { name: "surface", kind: "specificAbsorptionRate", unit: "W/kg", summary: "at the surface, twice the mean" },
    {
      name: "surface-electric-field",
      kind: "electricField",
      unit: "V/m",
      summary: "peak electric field at the surface",
    },
  ],
  validity: "quasi-static, uniform field along a long body, one conductivity; field on all the time",
  source: { text: "Faraday's law on a circle", status: "derived" },
  compute: (inputs) => {
    const rate = sineRate(inputs.amplitude, inputs.frequency);
    const tissue = { conductivity_S_per_m: inputs.conductivity, density_kg_per_m3: inputs.density };
    const heating = axialCylinderHeating(inputs.radius, tissue, rate);
    return {
      mean: heating.mean_W_per_kg,
      surface: heating.highest_W_per_kg,
      "surface-electric-field": heating.peakField_V_per_m,
    };
  },
  advise: () => [
    "a field across a long body heats its worst point four times and its mean twice as much; layers and fibres differ by factors",
    "MRI limits for people, averaged over 6 min (from memory): whole body 2 W/kg normal and 4 first level, head 3.2, local trunk 10; for animals no published threshold in our sources",
    standingAdvice,
  ],
};

export const inducedFieldFormula: Formula = {
  name: "induced-field",
  subject: "safety",
  summary: "electric field that a sinusoidal field along a long body induces around its axis",
  equation: "E_peak = pi f B r, r = position x radius; E_rms = E_peak/sqrt 2",
  inputs: [
    frequencyInput,
    amplitudeInput,
    radiusInput,
    {
      name: "position",
      kind: "fraction",
      summary: "distance from the axis over the radius",
      example: "50 %",
      default: "100 %",
      minimum: 0,
      maximum: 1,
    },
  ],
  outputs: [
    { name: "peak", kind: "electricField", unit: "V/m", summary: "peak of the electric field at the position" },
    { name: "rms", kind: "electricField", unit: "V/m", summary: "its root mean square" },
  ],
  validity: "quasi-static, uniform field along a long cylinder whose conductivity varies with the radius only",
  source: { text: "Faraday's law on a circle", status: "derived" },
  compute: (inputs) => {
    const { peakRate_T_per_s } = sineRate(inputs.amplitude, inputs.frequency);
    const peak = axialField_V_per_m(inputs.position * inputs.radius, peakRate_T_per_s);
    return { peak, rms: peak / Math.SQRT2 };
  },
  advise: () => ["a field across a long body induces up to twice this", standingAdvice],
};
