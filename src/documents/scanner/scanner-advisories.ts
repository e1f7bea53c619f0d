import { formatQuantity } from "../../units/index.js";
import { originAdvisories } from "../fields/origin.js";
import type { ReceiveModel } from "./receive-model.js";
import type { ScannerModel } from "./scanner-model.js";

/** What is possible but odd: said, not refused. The bounds are common practice, not physics. */
export function scannerAdvisories(scanner: Omit<ScannerModel, "advisories">): string[] {
  const who = `scanner ${scanner.name}`;
  const said = [
    ...gradientAdvisories(scanner),
    ...driveAdvisories(scanner),
    ...scanner.receive.flatMap((receive) => receiveAdvisories(receive, scanner)),
  ];
  return [...originAdvisories(who, scanner.origin), ...said.map((each) => `${who}: ${each}`)];
}

function gradientAdvisories({ selectionField, bore }: Omit<ScannerModel, "advisories">): string[] {
  const { gradient_T_per_m, center_m } = selectionField;
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
  ];
}

function driveAdvisories({ driveAxes }: Omit<ScannerModel, "advisories">): string[] {
  return driveAxes.flatMap(({ axis, maximumAmplitude_T, frequency_Hz }) => [
    ...when(
      frequency_Hz < 300 || frequency_Hz > 500e3,
      `drive ${axis} at ${formatQuantity(frequency_Hz, "frequency")} is outside what has been used (300 Hz to 500 kHz)`,
    ),
    ...when(
      maximumAmplitude_T > 0.2,
      `drive ${axis} of ${formatQuantity(maximumAmplitude_T, "appliedField")} peak is unusually strong (20 mT is common): is it peak, and mu0*H?`,
    ),
  ]);
}

function receiveAdvisories(
  { axis, sensitivity_T_per_A, bandwidth_Hz, noise_V_per_sqrtHz, removesFundamental }: ReceiveModel,
  { driveAxes }: Pick<ScannerModel, "driveAxes">,
): string[] {
  const drive = driveAxes.find((each) => each.axis === axis);
  const third_Hz = drive === undefined ? undefined : 3 * drive.frequency_Hz;
  return [
    ...when(
      sensitivity_T_per_A > 0.1 || sensitivity_T_per_A < 1e-8,
      `receive coil ${axis} with ${formatQuantity(sensitivity_T_per_A, "receiveSensitivity")} is unusual (a 20 mm loop has 31.4 uT/A): is it B_R/I?`,
    ),
    ...when(noise_V_per_sqrtHz === 0, `receive coil ${axis} is stated to be free of noise`),
    ...when(
      removesFundamental && third_Hz !== undefined && bandwidth_Hz !== undefined && bandwidth_Hz < third_Hz,
      `receive band ${axis} ends below the third harmonic and the fundamental is taken out: only the second is left`,
    ),
  ];
}

const when = (holds: boolean, words: string): string[] => (holds ? [words] : []);
