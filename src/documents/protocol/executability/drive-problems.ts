import type { DocumentProblem } from "../../document-error.js";
import { driveNeeds } from "../../scanner/coil-needs.js";
import type { DriveAxisModel, ScannerModel } from "../../scanner/scanner-model.js";
import type { ProtocolModel } from "../protocol-model.js";
import { isSame, millitesla, problem, unmetNeeds, writtenTwice } from "./problem.js";

/** Axis, frequency, waveform and amplitude of the drive, and what its coil and amplifier must give for it. */
export function driveProblems({ driveAxes, duty }: ScannerModel, { drive }: ProtocolModel): DocumentProblem[] {
  const onAxis = driveAxes.filter(({ axis }) => axis === drive.axis);
  if (onAxis.length === 0) {
    const known = [...new Set(driveAxes.map(({ axis }) => `"${axis}"`))].join(", ");
    return [problem("drive.axis", `"${drive.axis}"`, `a drive axis of this scanner: ${known}`)];
  }
  const tuned = onAxis.find(({ frequency_Hz }) => isSame(frequency_Hz, drive.frequency_Hz));
  if (tuned === undefined) {
    const known = onAxis.map(({ frequency_Hz }) => `${frequency_Hz} Hz`).join(", ");
    return [
      problem("drive.frequency", `${drive.frequency_Hz} Hz`, `what drive axis ${drive.axis} is tuned to: ${known}`),
    ];
  }
  return [...waveformProblems(tuned, drive), ...amplitudeProblems(tuned, drive), ...supplyProblems(tuned, drive, duty)];
}

function waveformProblems({ axis, waveform }: DriveAxisModel, drive: ProtocolModel["drive"]): DocumentProblem[] {
  if (waveform.kind === "sine") return [];
  return [
    problem(
      "drive.waveform",
      `"${drive.waveform}" on drive axis ${axis}, which makes ${waveform.kind === "pulsed" ? "pulses" : "trapezoids"}`,
      "a drive axis with a sinusoidal waveform",
    ),
  ];
}

function amplitudeProblems(
  { axis, maximumAmplitude_T }: DriveAxisModel,
  { amplitude_T }: ProtocolModel["drive"],
): DocumentProblem[] {
  if (amplitude_T <= maximumAmplitude_T * (1 + writtenTwice)) return [];
  return [
    problem(
      "drive.amplitude",
      millitesla(amplitude_T),
      `at most ${millitesla(maximumAmplitude_T)} (peak) on axis ${axis}`,
    ),
  ];
}

function supplyProblems(
  { axis, coil }: DriveAxisModel,
  { amplitude_T, frequency_Hz }: ProtocolModel["drive"],
  duty: number,
): DocumentProblem[] {
  if (coil === undefined) return [];
  const { current_A, voltage_V, power_W } = driveNeeds(coil, { axis, amplitude_T, frequency_Hz });
  const at = { path: "drive.amplitude", where: `in drive coil ${axis}` };
  const { maximumCurrent_A, maximumVoltage_V, maximumPower_W } = coil.supply;
  const heat_W = power_W === null ? null : power_W * duty;
  return unmetNeeds([
    { ...at, what: "a peak current of", kind: "current", needed: current_A, available: maximumCurrent_A },
    { ...at, what: "a peak voltage of", kind: "voltage", needed: voltage_V, available: maximumVoltage_V },
    { ...at, what: "a power of", kind: "power", needed: power_W, available: maximumPower_W },
    { ...at, what: "a heat of", kind: "power", needed: heat_W, available: coil.cooling_W },
  ]);
}
