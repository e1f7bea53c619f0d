/** Front door of the imaging layer: trajectories -> forward models -> maps. */
export { type EmptyWeights, type PreparedScan, subtractEmpties } from "./acquisition/background.js";
export {
  type LineRaster,
  type Positions,
  positionAt,
  type RasterFrame,
  rasterFrames,
  scanTime_s,
  slowAxes,
} from "./acquisition/line-raster.js";
export { type Nuisances, recordVoltage, sampleNoise_V } from "./acquisition/nuisances.js";
export { type PeriodBasis, periodBasis, projectFrames, removeFundamental } from "./acquisition/period-harmonics.js";
export { contains, cutIntoPoints, type IronObject, type PointSources } from "./acquisition/point-sources.js";
export { type Grid, type GridMap, gridOf, mapTotal, toWorldOrder } from "./grid-map.js";
export { type DirectSummationProblem, directSummation, directSummationSteps } from "./operators/direct-summation.js";
export type { LineRasterOperator } from "./operators/line-raster-operator.js";
export {
  type RasterGeometry,
  type RasterSizes,
  rasterSizes,
  voxelCenter_m,
  voxelSize_m,
  voxelVolume_m3,
} from "./operators/raster-geometry.js";
export { fullRasterOperator, type RasterModel, rasterModel, rasterModelSteps } from "./operators/raster-model.js";
export { compressData, expandData, type RowCompression } from "./operators/row-compression.js";
export { type DiscrepancyChoice, weightByDiscrepancy } from "./reconstruction/discrepancy.js";
export { type PatchImage, removedBaseline, stitchOffsets } from "./reconstruction/lost-fundamental.js";
export { nativeSignalMap } from "./reconstruction/native-signal-map.js";
export { type Solved, type TikhonovOptions, type TikhonovSolver, tikhonov } from "./reconstruction/tikhonov.js";
export { voxelStandardDeviation } from "./reconstruction/voxel-variance.js";
