import type { FormulaInput } from "../../units/index.js";
import { coreMaterials } from "./core.js";

/** Inputs that several formulas of the particle share: one name, one meaning, one example. */
export const coreDiameterInput: FormulaInput = {
  name: "core-diameter",
  kind: "length",
  summary: "diameter of the magnetic core, without coating",
  example: "25 nm",
  minimum: 0,
  aboveMinimum: true,
};

export const saturationInput: FormulaInput = {
  name: "saturation",
  kind: "magnetisation",
  summary: "saturation magnetisation of the core material",
  example: "446 kA/m",
  minimum: 0,
  aboveMinimum: true,
};

export const temperatureInput: FormulaInput = {
  name: "temperature",
  kind: "temperature",
  summary: "absolute temperature of the tracer",
  example: "300 K",
  minimum: 0,
  aboveMinimum: true,
};

export const densityInput: FormulaInput = {
  name: "density",
  kind: "density",
  summary: "density of the magnetic oxide (default: magnetite; maghemite 4870 kg/m3)",
  example: "5180 kg/m3",
  default: `${coreMaterials.magnetite.density_kg_per_m3} kg/m3`,
  minimum: 0,
  aboveMinimum: true,
};

export const ironMassFractionInput: FormulaInput = {
  name: "iron-mass-fraction",
  kind: "fraction",
  summary: "kg of Fe per kg of oxide (default: magnetite, 0.72360; maghemite 0.69943)",
  example: "0.7236",
  default: coreMaterials.magnetite.ironMassFraction.toPrecision(8),
  minimum: 0,
  aboveMinimum: true,
  maximum: 1,
};

/**
 * Cautions about the core itself.
 * Source   size: onset of multi-domain magnetite near 80 nm, Dunlop & Oezdemir, Rock Magnetism; from memory.
 *          saturation: 92-100 A.m2/kg times 5180 kg/m3, review table, doi 10.1186/s42833-019-0002-6; read.
 */
export function adviseOnCore(inputs: Readonly<Record<string, number>>): string[] {
  const advice: string[] = [];
  if (inputs["core-diameter"] > 80e-9) {
    advice.push("a magnetite core above about 80 nm is not a single domain: its moment is less than Ms pi d^3/6");
  }
  if (inputs.saturation > 518e3) {
    advice.push("the saturation is above that of bulk magnetite (477 to 518 kA/m)");
  }
  return advice;
}

/** Cautions about a static width. Source: Tay et al., Phys. Med. Biol. 2017, abstract (18 to 32 nm cores); read. */
export function adviseOnWidth(inputs: Readonly<Record<string, number>>): string[] {
  const advice = [
    ...adviseOnCore(inputs),
    "static width: a lower bound from the equilibrium curve; relaxation and filters widen it",
  ];
  if (inputs["core-diameter"] > 25e-9) {
    advice.push("measured resolution stopped improving beyond about 25 nm cores, because relaxation grows with size");
  }
  return advice;
}
