import { formatQuantity } from "../../units/index.js";
import { originAdvisories } from "../fields/origin.js";
import { fieldPerAmpere_T_per_A, resistanceOf_Ohm } from "./coil-needs.js";
import { receiveAdvisories } from "./receive-advisories.js";
import type { DriveAxisModel, ScannerModel, ShiftFieldModel } from "./scanner-model.js";
import { subjectAdvisories } from "./subject-advisories.js";

type Scanner = Omit<ScannerModel, "advisories">;

/** What is possible but odd: said, not refused. The bounds are common practice, not physics. */
export function scannerAdvisories(scanner: Scanner): string[] {
  const who = `scanner ${scanner.name}`;
  const said = [
    ...boreAdvisories(scanner),
    ...gradientAdvisories(scanner),
    ...selectionCoilAdvisories(scanner),
    ...scanner.driveAxes.flatMap(driveAdvisories),
    ...scanner.shiftFields.flatMap((shift) => reachAdvisories("shift", shift, shift.range_T)),
    ...scanner.receive.flatMap((receive) => receiveAdvisories(receive, scanner)),
    ...subjectAdvisories(scanner),
  ];
  return [...originAdvisories(who, scanner.origin), ...said.map((each) => `${who}: ${each}`)];
}

function boreAdvisories({ bore, bed }: Scanner): string[] {
  const [width_m, length_m] = [2 * bore.radius_m, 2 * bore.halfLength_m];
  return [
    ...when(
      width_m > 1 || length_m > 3,
      `a bore of ${formatQuantity(width_m, "length")} by ${formatQuantity(length_m, "length")} is larger than what is usually built (1 m by 3 m)`,
    ),
    ...when(
      bed !== undefined && bed.axis !== bore.axis,
      `its bed moves along ${bed?.axis}, across the bore, whose axis is ${bore.axis}`,
    ),
  ];
}

function gradientAdvisories({ selectionField, bore }: Scanner): string[] {
  const { gradient_T_per_m, center_m, fieldFreePoints = 1 } = selectionField;
  const largest = Math.max(...gradient_T_per_m.flat().map(Math.abs));
  const off_m = Math.hypot(...center_m);
  return [
    ...when(
      largest > 15,
      `a gradient of ${formatQuantity(largest, "fieldGradient")} is above what is usually built (15 T/m)`,
    ),
    ...when(
      off_m > 0.02 * bore.radius_m,
      `its field-free centre lies ${formatQuantity(off_m, "length")} from the origin, to which positions refer`,
    ),
    ...when(
      fieldFreePoints > 1,
      `its sources leave ${fieldFreePoints} field-free points within the bore: iron at any of them gives signal; the one nearest the centre is taken`,
    ),
  ];
}

/** At direct current: what the selection field asks of each of its coils all the time. */
function selectionCoilAdvisories({ selectionField }: Scanner): string[] {
  return (selectionField.sources?.coils ?? []).flatMap(({ name, coil, current_A }) => {
    const resistance_Ohm = resistanceOf_Ohm(coil);
    if (resistance_Ohm === null) return [];
    const power_W = resistance_Ohm * current_A ** 2;
    const most_W = coil.cooling_W;
    return when(
      most_W !== undefined && power_W > most_W,
      `selection coil ${name} turns ${formatQuantity(power_W, "power")} into heat, above its cooling of ${formatQuantity(most_W ?? 0, "power")}`,
    );
  });
}

function driveAdvisories(drive: DriveAxisModel): string[] {
  const { axis, maximumAmplitude_T, frequency_Hz, waveform, coil } = drive;
  const amplitude = formatQuantity(maximumAmplitude_T, "appliedField");
  return [
    ...when(
      frequency_Hz < 300 || frequency_Hz > 500e3,
      `drive ${axis} at ${formatQuantity(frequency_Hz, "frequency")} is outside what has been used (300 Hz to 500 kHz)`,
    ),
    ...when(
      maximumAmplitude_T > 0.2,
      `drive ${axis} of ${amplitude} peak is unusually strong (20 mT is common): is it peak, and mu0*H?`,
    ),
    ...when(
      maximumAmplitude_T < 0.1e-3,
      `drive ${axis} of ${amplitude} peak is unusually weak (20 mT is common): tracers hardly leave their linear range`,
    ),
    ...when(
      coil?.isResonant === true && waveform.kind !== "sine",
      `drive ${axis} is tuned by capacitors, which pass a sine only, but its waveform is ${waveform.kind === "pulsed" ? "pulses" : "trapezoids"}`,
    ),
    ...reachAdvisories("drive", drive, maximumAmplitude_T),
  ];
}

/** A coil whose supply, by its current alone, does not reach the field that the document states. */
function reachAdvisories(
  role: "drive" | "shift",
  { axis, coil }: Pick<DriveAxisModel | ShiftFieldModel, "axis" | "coil">,
  stated_T: number,
): string[] {
  const most_A = coil?.supply.maximumCurrent_A;
  if (coil === undefined || most_A === undefined) return [];
  const reached_T = most_A * Math.abs(fieldPerAmpere_T_per_A(coil, axis));
  return when(
    reached_T < stated_T * (1 - 1e-6),
    `the ${formatQuantity(most_A, "current")} of ${role} coil ${axis} reach ${formatQuantity(reached_T, "appliedField")}, not the stated ${formatQuantity(stated_T, "appliedField")}`,
  );
}

const when = (holds: boolean, words: string): string[] => (holds ? [words] : []);
