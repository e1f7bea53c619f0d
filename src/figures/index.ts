/** Front door of the figures layer: data -> SVG with its numbers. The plot library loads at the first figure. */
export type { CurveFitFigureData, CurveFitFigureOptions } from "./curve-fit.js";
export { curveFitFigure } from "./curve-fit.js";
export type { Figure, FigureColumn } from "./figure.js";
export { figureCsv } from "./figure.js";
export type { FigureDocument } from "./figure-document.js";
export { palette } from "./palette.js";
