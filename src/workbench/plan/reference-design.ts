import {
  type CoilModel,
  coilElectrics,
  type DriveAxisModel,
  directFeedthrough_V,
  fieldPerAmpere_T_per_A,
  physicalCoil,
  type ReceiveModel,
  type ScannerModel,
} from "../../documents/index.js";
import { FerruleError } from "../../errors.js";
import { axisIndex, type Coil, principalGradients } from "../../physics/index.js";
import { type PowerAnalysis, powerAnalysis } from "../scanner/coil-analysis.js";
import { selectionEnergy_J } from "../scanner/selection-energy.js";

/** The selection field at the reference bore and gradient. Coils follow the current, magnets only their size. */
export interface SelectionDesign {
  readonly kind: "ideal" | "coils" | "magnets" | "coils and magnets";
  /** null: not known (an ideal field, or a conductor that is not stated). */
  readonly power_W: number | null;
  readonly storedEnergy_J: number | null;
  readonly supplyPower_W: number | null;
  /** Largest of the coils' current and voltage over what their supplies give; null: not stated. */
  readonly currentShare: number | null;
  readonly voltageShare: number | null;
  readonly cooling_W: number | null;
}

export interface DriveDesign {
  readonly coil: CoilModel;
  /** For resistances at other frequencies and sizes; undefined: only what was measured is known. */
  readonly physical: Coil | undefined;
  readonly inductance_H: number | null;
  readonly field_T_per_A: number;
}

/** What a sweep scales: a scanner at its own size. */
export interface ReferenceDesign {
  readonly scanner: ScannerModel;
  readonly boreDiameter_m: number;
  /** Largest principal gradient, magnitude. */
  readonly gradient_T_per_m: number;
  /** Gradient along the drive axis over the largest one. */
  readonly shareAlongDrive: number;
  readonly selection: SelectionDesign;
  readonly drive: DriveAxisModel;
  readonly driveCoil: DriveDesign | null;
  readonly receive: ReceiveModel;
  /** Direct feedthrough per tesla and hertz at the reference size, V/(T Hz); null: windings not stated. */
  readonly feedthrough_V_per_T_Hz: number | null;
  /** null: a coil, or its conductor, is not stated. */
  readonly conductorMass_kg: number | null;
  /** null: an ideal selection field does not say what makes it. */
  readonly magnetMass_kg: number | null;
}

/** @throws FerruleError  MissingFact for a scanner without a drive or a receive channel on the axis */
export function referenceDesign(scanner: ScannerModel, axis: "x" | "y" | "z"): ReferenceDesign {
  const drive = scanner.driveAxes.find((each) => each.axis === axis) ?? missing(scanner, `drive along ${axis}`);
  const receive =
    scanner.receive.find((each) => each.axis === axis) ?? missing(scanner, `receive channel along ${axis}`);
  const tensor = Float64Array.from(scanner.selectionField.gradient_T_per_m.flat());
  const gradient_T_per_m = Math.abs(principalGradients(tensor).values_T_per_m[0]);
  const at = axisIndex(axis);
  const along = Math.hypot(tensor[at], tensor[3 + at], tensor[6 + at]);
  const power = powerAnalysis(scanner);
  const unitFeedthrough = directFeedthrough_V(receive, { ...drive, amplitude_T: 1, frequency_Hz: 1 });
  return {
    scanner,
    boreDiameter_m: scanner.boreDiameter_m,
    gradient_T_per_m,
    shareAlongDrive: along / gradient_T_per_m,
    selection: selectionDesign(scanner),
    drive,
    driveCoil: driveDesign(drive),
    receive,
    feedthrough_V_per_T_Hz: unitFeedthrough,
    conductorMass_kg: isWholeMassKnown(power) ? power.conductorMass_kg : null,
    magnetMass_kg: scanner.selectionField.sources === undefined ? null : power.magnetMass_kg,
  };
}

/** A sum over the coils that happen to be stated would make the rest look free. */
function isWholeMassKnown({ coils, unknown }: PowerAnalysis): boolean {
  return unknown.length === 0 && coils.every(({ conductorMass_kg }) => conductorMass_kg !== null);
}

function missing(scanner: ScannerModel, what: string): never {
  throw new FerruleError("MissingFact", {
    path: "driveAxis",
    found: `scanner ${scanner.name}, which has no ${what}`,
    accepted: "an axis with both a drive and a receive channel in every scanner of the sweep",
  });
}

function selectionDesign({ selectionField: { sources } }: ScannerModel): SelectionDesign {
  if (sources === undefined)
    return {
      kind: "ideal",
      power_W: null,
      storedEnergy_J: null,
      supplyPower_W: null,
      currentShare: null,
      voltageShare: null,
      cooling_W: null,
    };
  const { coils, magnets } = sources;
  const powers = coils.map(({ coil, current_A }) => {
    const { resistance_Ohm } = coilElectrics(coil);
    return resistance_Ohm === null ? null : resistance_Ohm * current_A ** 2;
  });
  return {
    kind: coils.length === 0 ? "magnets" : magnets.length === 0 ? "coils" : "coils and magnets",
    power_W: sumOrNull(powers),
    storedEnergy_J: selectionEnergy_J(sources),
    currentShare: largestShare(coils.map(({ coil, current_A }) => [Math.abs(current_A), coil.supply.maximumCurrent_A])),
    voltageShare: largestShare(
      coils.map(({ coil, current_A }) => {
        const { resistance_Ohm } = coilElectrics(coil);
        return [resistance_Ohm === null ? null : resistance_Ohm * Math.abs(current_A), coil.supply.maximumVoltage_V];
      }),
    ),
    supplyPower_W: coils.length === 0 ? null : sumOrNull(coils.map(({ coil }) => coil.supply.maximumPower_W ?? null)),
    cooling_W: coils.length === 0 ? null : sumOrNull(coils.map(({ coil }) => coil.cooling_W ?? null)),
  };
}

/** Of what is known on both sides. */
function largestShare(pairs: readonly (readonly [number | null, number | undefined])[]): number | null {
  const shares = pairs.flatMap(([needed, available]) =>
    needed === null || available === undefined ? [] : [needed / available],
  );
  return shares.length === 0 ? null : Math.max(...shares);
}

function sumOrNull(values: readonly (number | null)[]): number | null {
  return values.reduce<number | null>((sum, value) => (sum === null || value === null ? null : sum + value), 0);
}

function driveDesign(drive: DriveAxisModel): DriveDesign | null {
  const { coil, axis } = drive;
  if (coil === undefined) return null;
  return {
    coil,
    physical: physicalCoil(coil),
    inductance_H: coilElectrics(coil).inductance_H,
    field_T_per_A: Math.abs(fieldPerAmpere_T_per_A(coil, axis)),
  };
}
