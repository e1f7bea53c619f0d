/** Front door of the workbench: use-cases that every face shares, and the store below them. */
export { type DoctorReport, examineMachine, findTool, type OptionalTool, optionalTools } from "./commands/doctor.js";
export { type FitCurveRequest, type FittedCurve, figureOfFit, fitCurve, fitDocument } from "./commands/fit-curve.js";
export { writeFileAtomically } from "./store/atomic-write.js";
export { contentHash } from "./store/content-hash.js";
export { writeResults } from "./store/write-results.js";
