import type { ScannerModel } from "../../documents/index.js";
import { FerruleError } from "../../errors.js";
import type { PeriodicField } from "../../physics/index.js";
import { type Drive, periodicField } from "../../runtime/index.js";
import { formatQuantity, parseQuantity } from "../../units/index.js";

export const waveforms = ["cosine", "triangle", "pulsed"] as const;
export type Waveform = (typeof waveforms)[number];

/** What may be asked instead of the scanner's own drive; quantities as people write them. */
export interface DriveRequest {
  readonly axis?: string | undefined;
  readonly amplitude?: string | undefined;
  readonly frequency?: string | undefined;
  readonly waveform?: string | undefined;
  readonly riseTime?: string | undefined;
}

export interface DriveConditions {
  readonly axis: "x" | "y" | "z";
  readonly amplitude_T: number;
  readonly frequency_Hz: number;
  readonly waveform: Waveform;
  /** The same drive as plain data, for workers. */
  readonly data: Drive;
  readonly field: PeriodicField;
  /** Where the asked drive is not the scanner's. */
  readonly advisories: readonly string[];
}

/** The drives to predict for: the scanner's axes at their largest amplitude, or what the request changes of them. */
export function driveConditions(scanner: ScannerModel, request: DriveRequest = {}): DriveConditions[] {
  const names = scanner.driveAxes.map(({ axis }) => axis);
  const chosen = scanner.driveAxes.filter(({ axis }) => request.axis === undefined || axis === request.axis);
  if (chosen.length === 0)
    throw new FerruleError("UnknownName", {
      path: "--axis",
      found: `"${request.axis}"`,
      accepted: `a drive axis of scanner ${scanner.name}: ${names.join(", ")}`,
    });
  const asked = request.waveform === undefined ? undefined : waveformOf(request.waveform);
  const amplitude = optional(request.amplitude, "appliedField", "--amplitude");
  const frequency = optional(request.frequency, "frequency", "--frequency");
  return chosen.map((axis) => {
    const amplitude_T = amplitude ?? axis.maximumAmplitude_T;
    const frequency_Hz = frequency ?? axis.frequency_Hz;
    const own = axis.waveform.kind;
    const waveform = asked ?? (own === "sine" ? "cosine" : "pulsed");
    const ownEdge_s = asked === undefined && own !== "sine" ? axis.waveform.edge_s : undefined;
    const data = dataOf({ waveform, amplitude_T, frequency_Hz, riseTime: request.riseTime, ownEdge_s });
    const advisories = [
      ...(amplitude_T > axis.maximumAmplitude_T * (1 + 1e-12)
        ? [`the amplitude is above what scanner ${scanner.name} can do along ${axis.axis}`]
        : []),
      ...(frequency_Hz === axis.frequency_Hz ? [] : [`the frequency is not that of scanner ${scanner.name}`]),
      ...(ownEdge_s !== undefined && own === "trapezoid"
        ? ["the ramps of the trapezoid are taken as half-cosine edges of the same duration"]
        : []),
    ];
    return { axis: axis.axis, amplitude_T, frequency_Hz, waveform, data, field: periodicField(data), advisories };
  });
}

function waveformOf(name: string): Waveform {
  const found = waveforms.find((candidate) => candidate === name);
  if (found !== undefined) return found;
  throw new FerruleError("UnknownName", {
    path: "--waveform",
    found: `"${name}"`,
    accepted: `one of ${waveforms.join(", ")}`,
  });
}

function dataOf({
  waveform,
  amplitude_T,
  frequency_Hz,
  riseTime,
  ownEdge_s,
}: {
  waveform: Waveform;
  amplitude_T: number;
  frequency_Hz: number;
  riseTime: string | undefined;
  ownEdge_s: number | undefined;
}): Drive {
  if (riseTime !== undefined && waveform !== "pulsed")
    throw new FerruleError("InvalidValue", {
      path: "--rise-time",
      found: `a rise time for a ${waveform} drive`,
      accepted: "it together with --waveform pulsed",
    });
  if (waveform !== "pulsed") return { kind: waveform, amplitude_T, frequency_Hz };
  // Without a stated one, a twentieth of the period: near-square, and still a finite voltage.
  const riseTime_s = optional(riseTime, "time", "--rise-time") ?? ownEdge_s ?? 0.05 / frequency_Hz;
  if (riseTime_s * frequency_Hz > 0.5)
    throw new FerruleError("InvalidValue", {
      path: "--rise-time",
      found: `"${riseTime}"`,
      accepted: `up to half a period, ${formatQuantity(0.5 / frequency_Hz, "time")} at ${formatQuantity(frequency_Hz, "frequency")}`,
    });
  return { kind: "pulsed", amplitude_T, frequency_Hz, riseTime_s };
}

function optional(
  text: string | undefined,
  kind: "appliedField" | "frequency" | "time",
  path: string,
): number | undefined {
  if (text === undefined) return undefined;
  const value = parseQuantity(text, kind, { path });
  if (value > 0) return value;
  throw new FerruleError("InvalidValue", { path, found: text, accepted: "a quantity above 0" });
}
