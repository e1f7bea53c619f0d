import { alternatingResistance_Ohm } from "../../documents/index.js";
import { scaleCoil } from "../../physics/index.js";
import type { DriveDesign, ReferenceDesign } from "./reference-design.js";

/** Where a sweep stands. */
export interface DesignPoint {
  /** Largest principal gradient. */
  readonly gradient_T_per_m: number;
  /** Peak. */
  readonly driveAmplitude_T: number;
  readonly frequency_Hz: number;
  readonly boreDiameter_m: number;
}

/** What the scanner needs at a point; null: not known. */
export interface DesignNeeds {
  readonly selectionPower_W: number | null;
  /** Current and voltage of the selection coils over what their supplies give. */
  readonly selectionCurrentShare: number | null;
  readonly selectionVoltageShare: number | null;
  readonly storedEnergy_J: number | null;
  readonly driveCurrent_A: number | null;
  readonly drivePower_W: number | null;
  /** At the amplifier: R I when tuned, |Z| I when not. Peak. */
  readonly driveVoltage_V: number | null;
  readonly driveApparentPower_VA: number | null;
  readonly heat_W: number | null;
  readonly conductorMass_kg: number | null;
  readonly magnetMass_kg: number | null;
  /** Gradient asked over what magnets of this shape give at this bore; null without magnets. */
  readonly magnetShare: number | null;
  /** Shift field that moves the field-free centre by a quarter of the bore along the drive. */
  readonly shiftForQuarterBore_T: number;
}

/** Resistances by size and frequency are asked again and again in a sweep. */
export type ResistanceTable = Map<string, number | null>;

/**
 * A scanner scaled to a bore, every length times s = bore/(own bore), and driven to a gradient, amplitude and frequency.
 *   selection coils: current x (G/G0) s^2, voltage x (G/G0) s, power x (G/G0)^2 s^3, stored energy x (G/G0)^2 s^5;  magnets: G0/s, mass x s^3
 *   drive coil: field per ampere x 1/s, inductance x s; its resistance is worked out anew (skin effect), strands stay
 *
 * Valid for   one shape; shift coils, yokes, shields and leads are not scaled
 * Source      facts L11; found numerically by `scalingExponents` (docs/science/scanner-trade-off.md)
 */
export function needsAt(design: ReferenceDesign, point: DesignPoint, resistances: ResistanceTable): DesignNeeds {
  const { selection, scanner } = design;
  const s = point.boreDiameter_m / design.boreDiameter_m;
  const g = point.gradient_T_per_m / design.gradient_T_per_m;
  const hasMagnets = selection.kind === "magnets" || selection.kind === "coils and magnets";
  const isSteerable = selection.kind === "coils" || selection.kind === "magnets";
  const drive = driveNeedsAt(design.driveCoil, { point, s, resistances });
  const selectionPower_W = scaled(isSteerable ? selection.power_W : null, g ** 2 * s ** 3);
  return {
    selectionPower_W,
    selectionCurrentShare: scaled(isSteerable ? selection.currentShare : null, g * s ** 2),
    selectionVoltageShare: scaled(isSteerable ? selection.voltageShare : null, g * s),
    storedEnergy_J: scaled(isSteerable ? selection.storedEnergy_J : null, g ** 2 * s ** 5),
    ...drive,
    heat_W: addKnown(selectionPower_W, scaled(drive.drivePower_W, scanner.duty)),
    conductorMass_kg: scaled(design.conductorMass_kg, s ** 3),
    magnetMass_kg: scaled(design.magnetMass_kg, s ** 3),
    magnetShare: hasMagnets ? g * s : null,
    shiftForQuarterBore_T: (point.gradient_T_per_m * design.shareAlongDrive * point.boreDiameter_m) / 4,
  };
}

const scaled = (value: number | null, factor: number): number | null => (value === null ? null : value * factor);
const addKnown = (a: number | null, b: number | null): number | null => (a === null || b === null ? null : a + b);

type DriveNeeds = Pick<DesignNeeds, "driveCurrent_A" | "drivePower_W" | "driveVoltage_V" | "driveApparentPower_VA">;

function driveNeedsAt(
  driveCoil: DriveDesign | null,
  { point, s, resistances }: { readonly point: DesignPoint; readonly s: number; readonly resistances: ResistanceTable },
): DriveNeeds {
  if (driveCoil === null)
    return { driveCurrent_A: null, drivePower_W: null, driveVoltage_V: null, driveApparentPower_VA: null };
  const { coil, inductance_H, field_T_per_A } = driveCoil;
  const current = (point.driveAmplitude_T * s) / field_T_per_A;
  const r = resistanceAt(driveCoil, { s, frequency_Hz: point.frequency_Hz, resistances });
  const x = inductance_H === null ? null : 2 * Math.PI * point.frequency_Hz * inductance_H * s;
  const z = r === null || x === null ? null : Math.hypot(r, x);
  return {
    driveCurrent_A: current,
    drivePower_W: scaled(r, current ** 2 / 2),
    driveVoltage_V: scaled(coil.isResonant ? r : z, current),
    driveApparentPower_VA: scaled(z, current ** 2 / 2),
  };
}

function resistanceAt(
  { coil, physical }: DriveDesign,
  {
    s,
    frequency_Hz,
    resistances,
  }: { readonly s: number; readonly frequency_Hz: number; readonly resistances: ResistanceTable },
): number | null {
  const key = `${s} ${frequency_Hz}`;
  const known = resistances.get(key);
  if (known !== undefined) return known;
  const temperature_K = coil.conductor?.temperature_K;
  // A measured resistance holds at its own frequency; it scales as 1/s for one shape.
  const value =
    coil.resistance_Ohm !== undefined
      ? coil.resistance_Ohm / s
      : physical === undefined
        ? null
        : alternatingResistance_Ohm(scaleCoil(physical, s), { frequency_Hz, temperature_K });
  resistances.set(key, value);
  return value;
}
