import { FerruleError } from "../../errors.js";
import { toCoil } from "./coil-field.js";
import { toWaveform } from "./drive-field.js";
import { type Bore, boreOf, centreOf, fieldFreeRegionOf, idealised, pointCount } from "./real-selection.js";
import { toReceive } from "./receive-model.js";
import { scannerAdvisories } from "./scanner-advisories.js";
import type { ScannerModel, SelectionFieldModel } from "./scanner-model.js";
import type { ParsedScanner } from "./scanner-schema.js";
import { fieldSourcesOf, toSelectionSources } from "./selection-field.js";
import { toSubject } from "./subject-field.js";

export function toScannerModel(parsed: ParsedScanner): ScannerModel {
  const { name, origin, topology, bed } = parsed;
  const bore = boreOf(parsed);
  const model = {
    name,
    origin,
    boreDiameter_m: parsed.boreDiameter,
    bore,
    topology,
    selectionField: toSelectionField(parsed, bore),
    driveAxes: parsed.driveAxes.map(({ axis, maximumAmplitude, frequency, phase, waveform, coil }) => ({
      axis,
      maximumAmplitude_T: maximumAmplitude,
      frequency_Hz: frequency,
      phase_rad: phase ?? 0,
      waveform: toWaveform(waveform, frequency),
      coil: coil && toCoil(coil),
    })),
    shiftFields: parsed.shiftFields.map(({ axis, range, slew, coil }) => ({
      axis,
      range_T: range,
      slew_T_per_s: slew,
      coil: coil && toCoil(coil),
    })),
    bed: bed && { axis: bed.axis, range_m: bed.range, speed_m_per_s: bed.speed },
    lineRotation_Hz: parsed.lineRotation,
    receive: parsed.receive.map(toReceive),
    duty: parsed.duty ?? 1,
    subject: parsed.subject && toSubject(parsed.subject),
    staffDistance_m: parsed.staffDistance,
  };
  return { ...model, advisories: scannerAdvisories(model) };
}

function toSelectionField({ selectionField }: ParsedScanner, bore: Bore): SelectionFieldModel {
  if (selectionField.kind === "ideal")
    return { kind: "ideal", gradient_T_per_m: selectionField.gradient, center_m: [0, 0, 0] };
  const sources = toSelectionSources(selectionField);
  const all = fieldSourcesOf(sources);
  const region = fieldFreeRegionOf(all, bore);
  const centre = centreOf(region);
  if (centre === undefined)
    throw new FerruleError("InvalidDocument", {
      path: "selectionField",
      found: "no field-free region",
      accepted: "sources whose field vanishes inside the bore",
    });
  const { position_m, gradient_T_per_m, direction } = centre;
  return {
    kind: "sources",
    gradient_T_per_m: idealised(gradient_T_per_m, direction),
    center_m: position_m,
    fieldFreePoints: pointCount(region),
    sources,
  };
}
