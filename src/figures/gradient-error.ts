import { FerruleError } from "../errors.js";
import type { BoreOutline, FieldFreeMark } from "./bore-outline.js";
import type { Figure } from "./figure.js";
import type { FigureDocument } from "./figure-document.js";
import { headedSvg, type KeyEntry } from "./key-panel.js";
import { plainNumber } from "./mass-unit.js";
import { palette } from "./palette.js";
import { checkMagnitudes, checkPlanes, columnsOfPlanes, type PlaneValues, rangeOf } from "./plane-cells.js";
import type { PlaneScale } from "./plane-panel.js";
import { planeKey, planeRow } from "./plane-row.js";
import { openCanvas } from "./render.js";

export interface GradientErrorFigureData {
  readonly title: string;
  /** Says what the error is relative to. */
  readonly subtitle: string;
  /** Size of the relative error in one to three planes, 0.1 for 10 %. */
  readonly slices: readonly PlaneValues[];
  readonly fieldFree?: readonly FieldFreeMark[];
  readonly boreOutline?: BoreOutline;
  /** The colours end here; 0.3 by default: three times what is commonly accepted. */
  readonly cap?: number;
}

/** An error up to this size is commonly accepted within the field of view. */
const commonPractice = 0.1;
const words = "10 % (common practice)";

/**
 * Size of the relative error of a gradient in up to three planes, in one scale of colours from zero to a cap that is
 * stated, with its contour at 10 %.
 *
 * @throws FerruleError ShapeMismatch, InvalidValue (no plane or more than three; an error below 0; none finite; no cap)
 */
export async function gradientErrorFigure(
  data: GradientErrorFigureData,
  { width = 720, document }: { width?: number; document?: FigureDocument } = {},
): Promise<Figure> {
  const { slices, boreOutline, fieldFree: marks, cap = 0.3 } = data;
  checkPlanes(slices);
  checkMagnitudes(slices, "sizes of the relative error");
  if (!(cap > 0 && Number.isFinite(cap))) {
    throw new FerruleError("InvalidValue", { path: "cap", found: String(cap), accepted: "a cap above 0, such as 0.3" });
  }
  const canvas = await openCanvas(document);
  const quantity = "Size of the relative error";
  const scale: PlaneScale = { ramp: "error", low: 0, high: cap, factor: 100, unit: "%", quantity };
  const levels = [{ value: commonPractice, words: [words, "10 %"] }];
  const row = { scale, levels, boreOutline, marks, width, canvas };
  const largest = rangeOf(slices)[1];
  const isReached = largest >= commonPractice;
  const contour: KeyEntry = isReached
    ? { words, colour: palette.ink, line: { width: 1 } }
    : { words: "below 10 % (common practice) everywhere", colour: palette.quiet };
  // Where errors are larger than the cap the key of the planes says how many.
  const range = { words: largest > cap ? "" : `colours end at ${plainNumber(100 * cap)} %`, colour: palette.quiet };
  const key = [contour, range, ...planeKey(slices, row)];
  const description = `Relative error in ${slices.length} planes; largest ${plainNumber(100 * largest)} %.`;
  return {
    svg: headedSvg(planeRow(slices, row, key), { ...data, description }, { width, canvas }),
    data: columnsOfPlanes(slices, [{ name: "relative_error", unit: "1", values: slices.map(({ values }) => values) }]),
  };
}
