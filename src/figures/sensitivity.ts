import { FerruleError } from "../errors.js";
import { toUnit, unitForDisplay, unitThatSuits } from "../units/index.js";
import type { BoreOutline } from "./bore-outline.js";
import type { Figure } from "./figure.js";
import type { FigureDocument } from "./figure-document.js";
import { headedSvg, type KeyEntry, type PanelSize } from "./key-panel.js";
import { roundUp } from "./map-scale.js";
import { plainNumber } from "./mass-unit.js";
import { palette } from "./palette.js";
import { checkMagnitudes, checkPlanes, columnsOfPlanes, type PlaneValues, rangeOf } from "./plane-cells.js";
import type { PlaneScale } from "./plane-panel.js";
import { planeKey, planeRow } from "./plane-row.js";
import { openCanvas, type SvgPanel } from "./render.js";
import type { SensitivityProfile } from "./sensitivity-line.js";
import { checkProfile, profilePanel } from "./sensitivity-profile.js";

export interface SensitivityFigureData {
  readonly title: string;
  readonly subtitle?: string;
  /** Value at the centre of the bore, T/A: what "-10 %" is relative to. */
  readonly reference_T_per_A: number;
  /** Size of the sensitivity in up to three planes, T/A. */
  readonly slices?: readonly PlaneValues[];
  readonly profile?: SensitivityProfile;
  readonly boreOutline?: BoreOutline;
}

function checked({ reference_T_per_A: reference, slices = [], profile }: SensitivityFigureData): void {
  checkPlanes(slices, { least: profile === undefined ? 1 : 0 });
  checkMagnitudes(slices, "sizes of the sensitivity: its sign is shown by a profile");
  if (profile !== undefined) checkProfile(profile);
  if (Number.isFinite(reference) && reference !== 0) return;
  const accepted = "the sensitivity at the centre, such as 1e-4 T/A; 10 % below zero is nothing";
  throw new FerruleError("InvalidValue", { path: "reference_T_per_A", found: `${reference} T/A`, accepted });
}

/** Colours begin at zero where the values come near it, else where they begin: the key says so. */
function scaleOf([least, largest]: readonly [number, number], shown: Pick<PlaneScale, "factor" | "unit">): PlaneScale {
  const high = roundUp(largest);
  // Twentieths of full scale, the last but one at most: a flat coil still has a range.
  const low = least > 0.5 * largest ? Math.min(19, Math.floor((20 * least) / high)) * (high / 20) : 0;
  return { ramp: "receive", low, high, ...shown, quantity: "Size of the sensitivity, |B/I|" };
}

type Shown = Pick<PlaneScale, "factor" | "unit">;

function slicePanels(data: SensitivityFigureData, shown: Shown, { width, canvas }: PanelSize): SvgPanel[] {
  const { slices = [], boreOutline, reference_T_per_A } = data;
  if (slices.length === 0) return [];
  const scale = scaleOf(rangeOf(slices), shown);
  const [least, largest] = rangeOf(slices);
  const level = 0.9 * Math.abs(reference_T_per_A);
  const row = { scale, levels: [{ value: level, words: ["\u221210 %"] }], boreOutline, width, canvas };
  const { factor, unit } = shown;
  const isReached = level > least && level < largest;
  const contour: KeyEntry = isReached
    ? { words: "10 % below the centre", colour: palette.ink, line: { width: 1 } }
    : { words: "10 % below the centre is not reached in these planes", colour: palette.quiet };
  const centre = `centre: ${plainNumber(Math.abs(reference_T_per_A) * factor, 4)} ${unit}`;
  const begin = scale.low > 0 ? `colours begin at ${plainNumber(scale.low * factor, 4)} ${unit}, not at 0` : "";
  const notes = [centre, begin].map((words) => ({ words, colour: palette.quiet }));
  return planeRow(slices, row, [contour, ...notes, ...planeKey(slices, row)]);
}

/**
 * Receive sensitivity B/I in up to three planes with the contour 10 % below its value at the centre, and along an axis.
 *
 * @throws FerruleError ShapeMismatch, InvalidValue (neither planes nor a profile; a size below 0; no value at the centre)
 */
export async function sensitivityFigure(
  data: SensitivityFigureData,
  { width = 720, document }: { width?: number; document?: FigureDocument } = {},
): Promise<Figure> {
  checked(data);
  const { slices = [], profile, reference_T_per_A } = data;
  const size = { width, canvas: await openCanvas(document) };
  const sized = unitThatSuits(Math.abs(reference_T_per_A), "receiveSensitivity", 2);
  const shown = { factor: toUnit(1, sized, "receiveSensitivity"), unit: unitForDisplay(sized) };
  const curve = profile === undefined ? [] : [profilePanel(profile, { ...shown, reference_T_per_A }, size)];
  const parts = [
    slices.length === 0 ? "" : `in ${slices.length} planes`,
    profile === undefined ? "" : `along ${profile.axis}`,
  ].filter(Boolean);
  const centre = `${plainNumber(reference_T_per_A * shown.factor, 4)} ${shown.unit}`;
  const description = `Receive sensitivity ${parts.join(" and ")}; at the centre ${centre}.`;
  const panels = [...slicePanels(data, shown, size), ...curve];
  return { svg: headedSvg(panels, { ...data, description }, size), data: columnsOf(data) };
}

/** Cells of the planes, or the profile where there are none; of both, the profile after them under view -1. */
function columnsOf({ slices = [], profile }: SensitivityFigureData): Figure["data"] {
  const quantity = { name: "sensitivity", unit: "T/A", values: slices.map(({ values }) => values) };
  const cells = columnsOfPlanes(slices, [quantity]);
  if (profile === undefined) return cells;
  const { axis, position_m, sensitivity_T_per_A } = profile;
  const own = (name: string): ArrayLike<number> => {
    if (name === "view") return position_m.map(() => -1);
    if (name === "sensitivity") return sensitivity_T_per_A;
    return name === axis ? position_m : position_m.map(() => Number.NaN);
  };
  const unitOf = (name: string, unit: string) => (name === "view" ? "-1: profile; else the plane" : unit);
  return cells.map(({ name, unit, values }) => ({
    name,
    unit: unitOf(name, unit),
    values: [...Array.from(values), ...Array.from(own(name))],
  }));
}
