import { cosineDrive, type PeriodicField, pulsedDrive, sineDrive, triangleDrive } from "../../physics/index.js";

/** A drive as plain data, for a function cannot be posted to a worker. The kinds are those of `periodic-field.ts`. */
export type Drive =
  | {
      readonly kind: "cosine" | "sine" | "triangle";
      /** Peak of mu0H. */
      readonly amplitude_T: number;
      readonly frequency_Hz: number;
      readonly bias_T?: number;
    }
  | {
      readonly kind: "pulsed";
      readonly amplitude_T: number;
      readonly frequency_Hz: number;
      readonly riseTime_s: number;
      readonly bias_T?: number;
    };

export function periodicField(drive: Drive): PeriodicField {
  const { amplitude_T, frequency_Hz, bias_T = 0 } = drive;
  switch (drive.kind) {
    case "cosine":
      return cosineDrive(amplitude_T, frequency_Hz, { bias_T });
    case "sine":
      return sineDrive(amplitude_T, frequency_Hz, { bias_T });
    case "triangle":
      return triangleDrive(amplitude_T, frequency_Hz, { bias_T });
    case "pulsed":
      return pulsedDrive(amplitude_T, frequency_Hz, { riseTime_s: drive.riseTime_s, bias_T });
  }
}

/** Whether a refusal's path is a member of a drive. */
export function isOfDrive(path: string): boolean {
  return ["amplitude_T", "frequency_Hz", "riseTime_s", "bias_T"].includes(path);
}
