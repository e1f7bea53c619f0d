import type { Axis } from "../fields/axis-field.js";
import type { Origin } from "../fields/origin.js";
import type { Vector3 } from "../fields/vector-field.js";
import type { CoilModel } from "./coil-field.js";
import type { WaveformModel } from "./drive-field.js";
import type { Bore } from "./real-selection.js";
import type { ReceiveModel } from "./receive-model.js";
import type { SelectionSources } from "./selection-field.js";
import type { Tensor3, Topology } from "./selection-tensor.js";
import type { SubjectModel } from "./subject-field.js";

/** A scanner in SI. All fields are mu0*H in tesla; amplitudes are peaks. */
export interface ScannerModel {
  readonly name: string;
  readonly origin: Origin;
  readonly boreDiameter_m: number;
  readonly bore: Bore;
  readonly topology: Topology;
  readonly selectionField: SelectionFieldModel;
  readonly driveAxes: readonly DriveAxisModel[];
  readonly shiftFields: readonly ShiftFieldModel[];
  readonly bed?: { readonly axis: Axis; readonly range_m: number; readonly speed_m_per_s: number } | undefined;
  readonly lineRotation_Hz?: number | undefined;
  readonly receive: readonly ReceiveModel[];
  readonly duty: number;
  readonly subject?: SubjectModel | undefined;
  readonly staffDistance_m?: number | undefined;
  readonly advisories: readonly string[];
}

export interface SelectionFieldModel {
  readonly kind: "ideal" | "sources";
  /** As scans take it: constant; of real sources at their field-free centre, idealised. */
  readonly gradient_T_per_m: Tensor3;
  /** The field-free centre in the scanner's frame; 0 for an ideal field. */
  readonly center_m: Vector3;
  /** Field-free points that real sources leave within the bore; absent for a line and for an ideal field. */
  readonly fieldFreePoints?: number | undefined;
  readonly sources?: SelectionSources | undefined;
}

export interface DriveAxisModel {
  readonly axis: Axis;
  readonly maximumAmplitude_T: number;
  readonly frequency_Hz: number;
  readonly phase_rad: number;
  readonly waveform: WaveformModel;
  readonly coil?: CoilModel | undefined;
}

export interface ShiftFieldModel {
  readonly axis: Axis;
  readonly range_T: number;
  readonly slew_T_per_s?: number | undefined;
  readonly coil?: CoilModel | undefined;
}
