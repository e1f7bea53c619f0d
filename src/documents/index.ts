export { DocumentError, type DocumentProblem } from "./document-error.js";
export { familyUrn } from "./document-family.js";
export { type DocumentOf, type FamilyName, families, familyNames, isFamilyName, type ModelOf } from "./families.js";
export { type Axis, axes, axisIndex } from "./fields/axis-field.js";
export type { Origin } from "./fields/origin.js";
export type { Provenance } from "./fields/provenance.js";
export type { Vector3 } from "./fields/vector-field.js";
export type { DocumentPath } from "./json/document-path.js";
export type { JsonObject, JsonValue } from "./json/json-value.js";
export { type ParsePositionedOptions, type PositionedJson, parsePositioned } from "./json/parse-positioned.js";
export type { Position } from "./json/position-tree.js";
export { jsonSchemas } from "./json-schema.js";
export { type ParseDocumentOptions, type Parsed, type ParsedDocument, parseDocument } from "./parse-document.js";
export type { PhantomModel, PhantomObject } from "./phantom/phantom-model.js";
export type { PhantomDocument } from "./phantom/phantom-schema.js";
export type { AxisPositions } from "./protocol/axis-positions.js";
export { checkExecutable } from "./protocol/check-executable.js";
export type { ProtocolModel } from "./protocol/protocol-model.js";
export type { ProtocolDocument } from "./protocol/protocol-schema.js";
export type { CoilModel, ConductorModel } from "./scanner/coil-field.js";
export {
  alternatingResistance_Ohm,
  type CoilElectrics,
  type CoilNeeds,
  coilElectrics,
  driveNeeds,
  fieldPerAmpere_T_per_A,
} from "./scanner/coil-needs.js";
export { coilSources } from "./scanner/coil-sources.js";
export type { WaveformModel } from "./scanner/drive-field.js";
export { physicalCoil } from "./scanner/physical-coil.js";
export type { Bore } from "./scanner/real-selection.js";
export {
  directFeedthrough_V,
  type Feedthrough,
  feedthroughAtDigitiser_V,
  feedthroughOf,
} from "./scanner/receive-feedthrough.js";
export type { ReceiveChainModel, ReceiveModel } from "./scanner/receive-model.js";
export type { DriveAxisModel, ScannerModel, SelectionFieldModel, ShiftFieldModel } from "./scanner/scanner-model.js";
export type { ScannerDocument } from "./scanner/scanner-schema.js";
export { fieldSourcesOf, type SelectionSources } from "./scanner/selection-field.js";
export type { Tensor3, Topology } from "./scanner/selection-tensor.js";
export type { SubjectModel } from "./scanner/subject-field.js";
export type { Question } from "./study/question-field.js";
export type { ReconstructionSettings } from "./study/reconstruction-field.js";
export type { RegionShapeModel } from "./study/region-shape.js";
export type { SimulationSettings } from "./study/simulation-field.js";
export type { StudyCalibration, StudyModel, StudyRegion, StudyScan } from "./study/study-model.js";
export type { StudyDocument } from "./study/study-schema.js";
export type { Prices, SweepAxes, SweepCase, SweepModel } from "./sweep/sweep-model.js";
export type { SweepDocument } from "./sweep/sweep-schema.js";
export { type Medium, media, type TracerState } from "./tracer/states-field.js";
export type { TracerModel, TracerUncertainties } from "./tracer/tracer-model.js";
export type { TracerDocument } from "./tracer/tracer-schema.js";
export {
  isSameState,
  type StateChange,
  type StateName,
  stateChange,
  stateWords,
  tracerInState,
} from "./tracer/tracer-state.js";
