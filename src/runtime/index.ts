/** Front door of the runtime layer. The pool's library and the kernels load when they are first used. */
export { type Drive, periodicField } from "./jobs/drive.js";
export {
  type FokkerPlanckAnswer,
  type FokkerPlanckEnsemble,
  fokkerPlanckEnsemble,
} from "./jobs/fokker-planck-ensemble.js";
export type { Job, JobName } from "./jobs/job.js";
export { type ChainField, type MacrospinChains, macrospinChains } from "./jobs/macrospin-chains.js";
export { type TracerResponse, tracerResponse } from "./jobs/tracer-response.js";
export type { KernelOptions } from "./kernels/instantiate.js";
export type { MemoryRegion } from "./kernels/kernel-memory.js";
export { type KernelKind, type KernelSet, kernelSet } from "./kernels/kernel-set.js";
export { loadLegendreTwin } from "./kernels/legendre-twin.js";
export { loadMacrospinTwin } from "./kernels/macrospin-twin.js";
export { loadNormalsTwin } from "./kernels/normals-twin.js";
export type { WasmMemory } from "./kernels/web-assembly.js";
export { type JobOptions, runJob, WorkerPool } from "./pool.js";
