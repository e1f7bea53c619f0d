import {
  type CoilModel,
  type CoilNeeds,
  coilElectrics,
  driveNeeds,
  fieldPerAmpere_T_per_A,
  physicalCoil,
  type ScannerModel,
} from "../../documents/index.js";
import {
  type Coil,
  type CoilReport,
  coilReport,
  fieldOfSources,
  magnetMass_kg,
  ownField_T_per_A,
  sourcesOfCoil,
} from "../../physics/index.js";
import { selectionEnergy_J } from "./selection-energy.js";

/** One coil at its largest use; null: the document does not say enough. */
export interface CoilAnalysis {
  /** "selection coil upper", "drive coil z". */
  readonly name: string;
  readonly role: "selection" | "drive" | "shift";
  readonly frequency_Hz: number;
  readonly current_A: number;
  readonly resistance_Ohm: number | null;
  readonly inductance_H: number | null;
  readonly storedEnergy_J: number | null;
  /** While it is on. */
  readonly power_W: number | null;
  /** With the duty of the drive. */
  readonly heat_W: number | null;
  /** Peak, that the supply gives. */
  readonly voltage_V: number | null;
  readonly windingVoltage_V: number | null;
  readonly apparentPower_VA: number | null;
  readonly currentDensity_A_per_m2: number | null;
  readonly conductorMass_kg: number | null;
  /** For a rise of 20 K of the water. */
  readonly coolantFlow_m3_per_s: number | null;
  readonly advisories: readonly string[];
}

export interface PowerAnalysis {
  readonly coils: readonly CoilAnalysis[];
  readonly magnetMass_kg: number;
  /** Sums over what is known; `unknown` names what is not. */
  readonly heat_W: number;
  /** Of the selection coils together, mutual inductances counted; null: not known. */
  readonly selectionEnergy_J: number | null;
  readonly conductorMass_kg: number;
  readonly unknown: readonly string[];
}

/** Rise of the cooling water for which the flow is given. */
const coolantRise_K = 20;

/** Every coil at its largest field: currents, voltages, power, cooling, weight. */
export function powerAnalysis(scanner: ScannerModel): PowerAnalysis {
  const coils = [...selectionCoils(scanner), ...driveCoils(scanner), ...shiftCoils(scanner)];
  const sum = (of: (coil: CoilAnalysis) => number | null) => coils.reduce((total, coil) => total + (of(coil) ?? 0), 0);
  const { sources } = scanner.selectionField;
  const magnets = sources?.magnets.flatMap((magnet) => magnet.sources) ?? [];
  return {
    coils,
    magnetMass_kg: magnetMass_kg(magnets),
    heat_W: sum(({ heat_W }) => heat_W),
    selectionEnergy_J: sources === undefined ? null : selectionEnergy_J(sources),
    conductorMass_kg: sum(({ conductorMass_kg }) => conductorMass_kg),
    unknown: [...withoutCoil(scanner), ...coils.filter(({ power_W }) => power_W === null).map(({ name }) => name)],
  };
}

function selectionCoils({ selectionField: { sources } }: ScannerModel): CoilAnalysis[] {
  return (sources?.coils ?? []).map(({ name, current_A, coil }) =>
    steady(coil, { name: `selection coil ${name}`, role: "selection", current_A: Math.abs(current_A) }),
  );
}

function shiftCoils({ shiftFields }: ScannerModel): CoilAnalysis[] {
  return shiftFields.flatMap(({ axis, range_T, slew_T_per_s, coil }) => {
    if (coil === undefined) return [];
    const perAmpere = Math.abs(fieldPerAmpere_T_per_A(coil, axis));
    const rate = slew_T_per_s === undefined ? undefined : slew_T_per_s / perAmpere;
    return [
      steady(coil, { name: `shift coil ${axis}`, role: "shift", current_A: range_T / perAmpere, rate_A_per_s: rate }),
    ];
  });
}

interface SteadyUse {
  readonly name: string;
  readonly role: "selection" | "shift";
  readonly current_A: number;
  readonly rate_A_per_s?: number | undefined;
}

function steady(coil: CoilModel, { name, role, current_A, rate_A_per_s = 0 }: SteadyUse): CoilAnalysis {
  const { resistance_Ohm: r, inductance_H: l } = coilElectrics(coil);
  const power_W = r === null ? null : r * current_A ** 2;
  const voltage_V = r === null ? null : r * current_A + (l === null ? 0 : l * rate_A_per_s);
  return {
    ...builtOf(coil, { current_A, frequency_Hz: 0 }),
    name,
    role,
    frequency_Hz: 0,
    current_A,
    resistance_Ohm: r,
    inductance_H: l,
    storedEnergy_J: l === null ? null : (l * current_A ** 2) / 2,
    power_W,
    heat_W: power_W,
    voltage_V,
    windingVoltage_V: voltage_V,
    apparentPower_VA: power_W,
  };
}

function driveCoils({ driveAxes, duty }: ScannerModel): CoilAnalysis[] {
  return driveAxes.flatMap(({ axis, coil, maximumAmplitude_T: amplitude_T, frequency_Hz }) =>
    coil === undefined
      ? []
      : [
          driven(coil, driveNeeds(coil, { axis, amplitude_T, frequency_Hz }), {
            name: `drive coil ${axis}`,
            frequency_Hz,
            duty,
          }),
        ],
  );
}

function driven(
  coil: CoilModel,
  needs: CoilNeeds,
  { name, frequency_Hz, duty }: { readonly name: string; readonly frequency_Hz: number; readonly duty: number },
): CoilAnalysis {
  const { inductance_H: l, power_W, current_A } = needs;
  return {
    ...builtOf(coil, { current_A, frequency_Hz, dutyCycle: duty }),
    ...needs,
    name,
    role: "drive",
    frequency_Hz,
    storedEnergy_J: l === null ? null : (l * current_A ** 2) / 2,
    heat_W: power_W === null ? null : power_W * duty,
  };
}

/** What only the windings and the conductor can tell. */
function builtOf(
  coil: CoilModel,
  use: { readonly current_A: number; readonly frequency_Hz: number; readonly dutyCycle?: number },
): Pick<CoilAnalysis, "currentDensity_A_per_m2" | "conductorMass_kg" | "coolantFlow_m3_per_s" | "advisories"> {
  const physical = physicalCoil(coil);
  if (physical === undefined)
    return { currentDensity_A_per_m2: null, conductorMass_kg: null, coolantFlow_m3_per_s: null, advisories: [] };
  const report: CoilReport = coilReport(physical, {
    ...use,
    ...(use.frequency_Hz === 0 ? {} : ownFieldOf(physical)),
    temperature_K: coil.conductor?.temperature_K,
    coolantRise_K,
    cooling: coil.cooling_W === undefined ? "air" : "water",
  });
  const { currentDensity_A_per_m2, mass_kg, coolantFlow_m3_per_s, advisories } = report;
  return { currentDensity_A_per_m2, conductorMass_kg: mass_kg, coolantFlow_m3_per_s, advisories };
}

/** Parts of the scanner that are stated as fields, without the coils that make them. */
function withoutCoil({ selectionField, driveAxes, shiftFields }: ScannerModel): string[] {
  return [
    ...(selectionField.kind === "ideal" ? ["selection field (ideal)"] : []),
    ...driveAxes.filter(({ coil }) => coil === undefined).map(({ axis }) => `drive ${axis} (no coil stated)`),
    ...shiftFields.filter(({ coil }) => coil === undefined).map(({ axis }) => `shift ${axis} (no coil stated)`),
  ];
}

/** What proximity losses need; nothing for windings without a section, whose report then says so. */
function ownFieldOf(coil: Coil): { readonly ownField_T_per_A?: readonly number[] } {
  const isThick = coil.windings.every(
    ({ shape }) => shape.kind === "coil-stack" && shape.outerRadius_m > shape.innerRadius_m,
  );
  return isThick ? { ownField_T_per_A: ownField_T_per_A(coil, fieldOfSources(sourcesOfCoil(coil, 1))) } : {};
}
