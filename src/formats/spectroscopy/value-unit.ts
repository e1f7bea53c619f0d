import { FerruleError } from "../../errors.js";
import type { HarmonicSpectrum, SpectrumBasis } from "../../measure/index.js";
import { askFor, type FactSource, factorAs, placeOf } from "../descriptor/facts.js";
import type { HarmonicsDescriptor, SpectrumQuantity } from "./descriptor.js";

export interface HarmonicsFactSource extends FactSource {
  readonly facts: HarmonicsDescriptor["facts"];
}

/** What a unit says about the values of a spectrum. */
export interface ValueScale {
  /** SI value of one unit; 1 where the scale is unknown. */
  readonly factor: number;
  readonly unit: HarmonicSpectrum["unit"];
}

const arbitraryWords = new Set(["arbitrary", "arb. u.", "a.u."]);

export const isArbitrary = (unit: string): boolean => arbitraryWords.has(unit.toLowerCase());

/** The moment's unit that values of a quantity in a unit lead to, or `undefined` where the two do not fit. */
function scaleOf(unit: string, quantity: SpectrumQuantity): ValueScale | undefined {
  if (isArbitrary(unit)) return { factor: 1, unit: "1" };
  // A rate per mass is no kind of its own: times a second it is a moment per mass.
  const candidates = {
    moment: [factorAs(unit, "magneticMoment"), factorAs(unit, "massMagnetisation")],
    "moment-rate": [factorAs(unit, "momentRate"), factorAs(`${unit}.s`, "massMagnetisation")],
    voltage: [factorAs(unit, "voltage"), undefined],
  } as const;
  const [whole, perMass] = candidates[quantity];
  if (whole !== undefined) return { factor: whole, unit: "A.m2" };
  return perMass === undefined ? undefined : { factor: perMass, unit: "A.m2/kg" };
}

const fittingUnits: Readonly<Record<SpectrumQuantity, string>> = {
  moment: '"A.m2", "emu", "A.m2/kg", "emu/g"',
  "moment-rate": '"A.m2/s", "A.m2/kg/s"',
  voltage: '"V", "uV"',
};

export const valueUnitRefusal = (unit: string, quantity?: SpectrumQuantity) => ({
  found: `"${unit}", which is no unit of ${quantity === undefined ? "moment, moment rate or voltage" : `a ${quantity}`}`,
  accepted: `${quantity === undefined ? Object.values(fittingUnits).join(", ") : fittingUnits[quantity]}, or "arbitrary"`,
});

export const isValueUnit = (unit: string): boolean =>
  (["moment", "moment-rate", "voltage"] as const).some((quantity) => scaleOf(unit, quantity) !== undefined);

/** @throws FerruleError UnitMismatch where the unit does not fit the quantity */
export function valueScale(unit: string, quantity: SpectrumQuantity, source: HarmonicsFactSource): ValueScale {
  const scale = scaleOf(unit, quantity);
  if (scale !== undefined) return scale;
  throw new FerruleError("UnitMismatch", { ...placeOf("valueUnit", source), ...valueUnitRefusal(unit, quantity) });
}

/** What the values are divided by: settled by the dimension of a whole moment, asked for where it is per mass. */
export function spectrumBasis(unit: HarmonicSpectrum["unit"], source: HarmonicsFactSource): SpectrumBasis {
  const said = source.facts.basis?.value;
  if (unit === "1") return "arbitrary";
  if (unit === "A.m2" && said === undefined) return "whole-sample";
  if (said === undefined) {
    throw askFor("basis", "a moment per mass that does not say of what", { source, value: "per-iron-mass" });
  }
  if ((said === "whole-sample") === (unit === "A.m2")) return said;
  const accepted =
    unit === "A.m2"
      ? '"whole-sample"'
      : 'a basis that fits the unit: "per-iron-mass", "per-oxide-mass", "per-sample-mass"';
  throw new FerruleError("UnitMismatch", {
    ...placeOf("basis", source),
    found: `"${said}" for a moment in ${unit}`,
    accepted,
  });
}
