/** Front door of the figures layer: data -> SVG with its numbers. The plot library loads at the first figure. */
export type { CurveFitFigureData, CurveFitFigureOptions } from "./curve-fit.js";
export { curveFitFigure } from "./curve-fit.js";
export type { Figure, FigureColumn } from "./figure.js";
export { figureCsv } from "./figure.js";
export { palette } from "./palette.js";
export type { Canvas, FigureDocument, SvgOptions, SvgPanel } from "./render.js";
export { openCanvas, renderPlot, toSvg } from "./render.js";
