import { formatQuantity } from "../../units/index.js";
import type { ReceiveModel } from "./receive-model.js";
import type { ScannerModel } from "./scanner-model.js";

/** What is odd about a receive channel of a scanner with these drives. */
export function receiveAdvisories(receive: ReceiveModel, { driveAxes }: Pick<ScannerModel, "driveAxes">): string[] {
  const { axis, sensitivity_T_per_A, noise_V_per_sqrtHz, removesFundamental, chain } = receive;
  return [
    ...when(
      sensitivity_T_per_A > 0.1 || sensitivity_T_per_A < 1e-8,
      `receive coil ${axis} with ${formatQuantity(sensitivity_T_per_A, "receiveSensitivity")} is unusual (a 20 mm loop has 31.4 uT/A): is it B_R/I?`,
    ),
    ...when(noise_V_per_sqrtHz === 0, `receive coil ${axis} is stated to be free of noise`),
    ...when(
      !removesFundamental && chain.fundamentalLeft < 1,
      `receive channel ${axis} states what is left of a fundamental that it does not take out`,
    ),
    ...bandAdvisories(receive, driveAxes),
  ];
}

/** Harmonics count from the drive along the coil's own axis, else from the slowest drive. */
function bandAdvisories(
  { axis, bandwidth_Hz, removesFundamental }: ReceiveModel,
  driveAxes: ScannerModel["driveAxes"],
): string[] {
  const own = driveAxes.filter((each) => each.axis === axis);
  const frequency_Hz = Math.min(...(own.length > 0 ? own : driveAxes).map((each) => each.frequency_Hz));
  const across = when(
    own.length === 0,
    `receive coil ${axis} lies across every drive axis: it sees only what the gradient turns its way`,
  );
  if (bandwidth_Hz === undefined || !removesFundamental) return across;
  const taken = `receive band ${axis} ends below the ${bandwidth_Hz < 2 * frequency_Hz ? "second" : "third"} harmonic and the fundamental is taken out`;
  if (bandwidth_Hz < 2 * frequency_Hz) return [...across, `${taken}: no harmonic is left`];
  return [...across, ...when(bandwidth_Hz < 3 * frequency_Hz, `${taken}: only the second is left`)];
}

const when = (holds: boolean, words: string): string[] => (holds ? [words] : []);
