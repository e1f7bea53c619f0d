import type { FormulaInput } from "../units/index.js";
import { whoDecides } from "./research-use.js";

/** Said by every formula of this layer. */
export const standingAdvice = `research use, not a medical device; ${whoDecides}`;

export const frequencyInput: FormulaInput = {
  name: "frequency",
  kind: "frequency",
  summary: "frequency of the sinusoidal field",
  example: "25 kHz",
  minimum: 0,
  aboveMinimum: true,
};

export const amplitudeInput: FormulaInput = {
  name: "amplitude",
  kind: "appliedField",
  summary: "peak amplitude of the field (not peak-to-peak, not rms)",
  example: "6 mT",
  minimum: 0,
  aboveMinimum: true,
};

export const radiusInput: FormulaInput = {
  name: "radius",
  kind: "length",
  summary: "radius of the body's section",
  example: "0.2 m",
  minimum: 0,
  aboveMinimum: true,
};
