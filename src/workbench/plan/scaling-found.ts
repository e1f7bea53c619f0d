import type { CoilModel, ScannerModel } from "../../documents/index.js";
import { physicalCoil } from "../../documents/index.js";
import {
  axisIndex,
  type Coil,
  fieldAtPoint,
  gradientOfSources,
  type ScalingResult,
  scalingExponents,
  sourcesOfCoil,
} from "../../physics/index.js";

/** Exponents of gradient or field, size and frequency, found by building the coil at three sizes; null: windings not known. */
export interface ScalingFound {
  /** Of the first selection coil: power ~ G^p a^s. */
  readonly selectionPower: Exponents | null;
  readonly storedEnergy: Exponents | null;
  /** Of the drive coil, direct resistance. */
  readonly drivePower: Exponents | null;
  readonly reactivePower: Exponents | null;
}

interface Exponents {
  readonly wanted: number;
  readonly size: number;
  readonly frequency: number;
  /** Largest departure of a computed value from the power law. */
  readonly worstResidual: number;
}

const scales = [0.5, 1, 2];

/** The laws of facts L11, not assumed but found: every length scaled, the current solved for, power and energy computed. */
export function scalingFound({ selectionField, driveAxes, bore }: ScannerModel, axis: "x" | "y" | "z"): ScalingFound {
  const selection = physicalOf(selectionField.sources?.coils[0]?.coil);
  const drive = physicalOf(driveAxes.find((each) => each.axis === axis)?.coil);
  const gradientAlongBore = (coil: Coil) =>
    gradientOfSources(sourcesOfCoil(coil, 1), [0, 0, 0])[4 * axisIndex(bore.axis)];
  const alongAxis = (coil: Coil) => fieldAtPoint(sourcesOfCoil(coil, 1), [0, 0, 0])[axisIndex(axis)];
  const study = (coil: Coil, fieldPerAmpere: (scaled: Coil) => number, wanted: readonly number[]): ScalingResult =>
    scalingExponents({ coil, fieldPerAmpere, wanted, scales, frequencies_Hz: [10e3, 25e3] });
  const ofSelection = selection && study(selection, gradientAlongBore, [1, 2]);
  const ofDrive = drive && study(drive, alongAxis, [5e-3, 10e-3]);
  return {
    selectionPower: exponents(ofSelection?.power_W),
    storedEnergy: exponents(ofSelection?.storedEnergy_J),
    drivePower: exponents(ofDrive?.power_W),
    reactivePower: exponents(ofDrive?.reactivePower_var),
  };
}

const physicalOf = (coil: CoilModel | undefined): Coil | undefined =>
  coil === undefined ? undefined : physicalCoil(coil);

function exponents(law: ScalingResult["power_W"] | undefined): Exponents | null {
  if (law === undefined) return null;
  const { wanted, scale, frequency } = law.exponents;
  return { wanted, size: scale, frequency, worstResidual: law.worstResidual };
}
