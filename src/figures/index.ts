/** Front door of the figures layer: data -> SVG with its numbers. The plot library loads at the first figure. */

export { type BudgetFigureData, budgetFigure, largestTerm } from "./budget.js";
export { type CalibrationFigureData, calibrationFigure } from "./calibration.js";
export type { CurveFitFigureData, CurveFitFigureOptions } from "./curve-fit.js";
export { curveFitFigure } from "./curve-fit.js";
export { type DiscrepancyFigureData, discrepancyFigure } from "./discrepancy.js";
export type { Figure, FigureColumn } from "./figure.js";
export { figureCsv } from "./figure.js";
export type { FigureDocument } from "./figure-document.js";
export type { MapSlicesFigureData, MapSlicesFigureOptions } from "./map-slices.js";
export { mapSlicesFigure } from "./map-slices.js";
export { type MassesFigureData, massesFigure } from "./masses.js";
export { palette } from "./palette.js";
export { type PredictedCurves, type PredictionFigureData, predictionFigure } from "./prediction.js";
export type { RegionSlicesFigureData } from "./region-slices.js";
export { regionSlicesFigure } from "./region-slices.js";
export { type SizeCurve, type SizeDistributionFigureData, sizeDistributionFigure } from "./size-distribution.js";
export { type SpectrumFitFigureData, spectrumFitFigure } from "./spectrum-fit.js";
export { type SusceptibilityFitFigureData, susceptibilityFitFigure } from "./susceptibility-fit.js";
