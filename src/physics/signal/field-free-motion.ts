import type { Formula, FormulaInput } from "../../units/index.js";

/**
 * Width of the region that the drive field sweeps (partial field of view).
 *   W = 2 A / G
 *
 * @param driveAmplitude_T  *peak* mu0H of the drive along the axis, T
 * @param gradient_T_per_m  magnitude of the gradient along the *same* axis, T/m
 * @returns width, m
 * Valid for   uniform gradient and drive
 * Source      Goodwill et al., IEEE TMI 29:1851 (2010), x-space relations; from memory, derived
 * Checked by  checks/handbook
 */
export function partialFieldOfView_m(driveAmplitude_T: number, gradient_T_per_m: number): number {
  return (2 * driveAmplitude_T) / gradient_T_per_m;
}

/**
 * Peak speed of the field-free point (or line) under a sinusoidal drive.
 *   v = 2 pi f A / G
 *
 * @param driveAmplitude_T  *peak* mu0H of the drive along the axis, T
 * @param gradient_T_per_m  magnitude of the gradient along the same axis, T/m
 * @returns speed, m/s
 * Valid for, Source, Checked by   as `partialFieldOfView_m`
 */
export function peakSpeed_m_per_s(driveAmplitude_T: number, gradient_T_per_m: number, frequency_Hz: number): number {
  return (2 * Math.PI * frequency_Hz * driveAmplitude_T) / gradient_T_per_m;
}

export const driveAmplitudeInput: FormulaInput = {
  name: "drive-amplitude",
  kind: "appliedField",
  summary: "peak amplitude of the drive field along the axis (not peak-to-peak, not rms)",
  example: "20 mT",
  minimum: 0,
  aboveMinimum: true,
};

export const driveFrequencyInput: FormulaInput = {
  name: "frequency",
  kind: "frequency",
  summary: "frequency of the sinusoidal drive",
  example: "20 kHz",
  minimum: 0,
  aboveMinimum: true,
};

const gradientInput: FormulaInput = {
  name: "gradient",
  kind: "fieldGradient",
  summary: "magnitude of the gradient along the drive axis",
  example: "7 T/m",
  minimum: 0,
  aboveMinimum: true,
};

const source = {
  text: "Goodwill et al., IEEE TMI 29:1851 (2010), x-space relations; geometry",
  status: "from memory",
} as const;

export const partialFovFormula: Formula = {
  name: "partial-fov",
  subject: "signal",
  summary: "width of the region that the drive field sweeps",
  equation: "W = 2 A / G",
  inputs: [driveAmplitudeInput, gradientInput],
  outputs: [{ name: "width", kind: "length", unit: "mm", summary: "partial field of view along the drive" }],
  validity: "uniform gradient and drive field",
  source,
  compute: (inputs) => ({ width: partialFieldOfView_m(inputs["drive-amplitude"], inputs.gradient) }),
};

export const fieldFreeSpeedFormula: Formula = {
  name: "field-free-speed",
  subject: "signal",
  summary: "peak speed of the field-free point or line",
  equation: "v = 2 pi f A / G",
  inputs: [driveAmplitudeInput, driveFrequencyInput, gradientInput],
  outputs: [{ name: "peak-speed", kind: "velocity", unit: "m/s", summary: "speed as the drive passes zero" }],
  validity: "sinusoidal drive, uniform gradient and drive field",
  source,
  compute: (inputs) => ({
    "peak-speed": peakSpeed_m_per_s(inputs["drive-amplitude"], inputs.gradient, inputs.frequency),
  }),
};
