import type { Axis } from "../fields/axis-field.js";
import { type Origin, originAdvisories } from "../fields/origin.js";
import type { ParsedScanner } from "./scanner-schema.js";
import type { Tensor3, Topology } from "./selection-tensor.js";

/** A scanner in SI. All fields are mu0*H in tesla; amplitudes are peaks. */
export interface ScannerModel {
  readonly name: string;
  readonly origin: Origin;
  readonly boreDiameter_m: number;
  readonly topology: Topology;
  readonly selectionField: { readonly kind: "ideal"; readonly gradient_T_per_m: Tensor3 };
  readonly driveAxes: readonly {
    readonly axis: Axis;
    readonly maximumAmplitude_T: number;
    readonly frequency_Hz: number;
  }[];
  readonly shiftFields: readonly { readonly axis: Axis; readonly range_T: number }[];
  readonly receive: readonly ReceiveModel[];
  readonly advisories: readonly string[];
}

export interface ReceiveModel {
  readonly axis: Axis;
  /** Magnitude of B_R/I; the sign is `polarity`. */
  readonly sensitivity_T_per_A: number;
  readonly polarity: 1 | -1;
  readonly noise_V_per_sqrtHz: number;
  readonly bandwidth_Hz?: number | undefined;
  readonly removesFundamental: boolean;
}

export function toScannerModel(parsed: ParsedScanner): ScannerModel {
  const { name, origin, topology, selectionField } = parsed;
  return {
    name,
    origin,
    boreDiameter_m: parsed.boreDiameter,
    topology,
    selectionField: { kind: selectionField.kind, gradient_T_per_m: selectionField.gradient },
    driveAxes: parsed.driveAxes.map(({ axis, maximumAmplitude, frequency }) => ({
      axis,
      maximumAmplitude_T: maximumAmplitude,
      frequency_Hz: frequency,
    })),
    shiftFields: parsed.shiftFields.map(({ axis, range }) => ({ axis, range_T: range })),
    receive: parsed.receive.map(toReceive),
    advisories: originAdvisories(`scanner ${name}`, origin),
  };
}

function toReceive(parsed: ParsedScanner["receive"][number]): ReceiveModel {
  const { axis, sensitivity, polarity, noise, bandwidth, removesFundamental } = parsed;
  return {
    axis,
    sensitivity_T_per_A: sensitivity,
    polarity,
    noise_V_per_sqrtHz: noise,
    bandwidth_Hz: bandwidth,
    removesFundamental,
  };
}
