import { FerruleError } from "../errors.js";
import { checkLengths } from "./check-lengths.js";
import type { Figure } from "./figure.js";
import type { FigureDocument } from "./figure-document.js";
import { centred, headedSvg, type KeyEntry, keyPanel, letter_px, type PanelSize } from "./key-panel.js";
import { logTicks } from "./log-axis.js";
import { palette } from "./palette.js";
import { shortened } from "./panel-layout.js";
import { openCanvas, renderPlot, type SvgPanel } from "./render.js";

/** Another distribution to set beside the first, e.g. a log-normal that was fitted. */
export interface SizeCurve {
  readonly label: string;
  /** Ascending. */
  readonly diameter_m: Float64Array;
  /** Core volume per unit ln d, of any scale: it is drawn with area 1, and by number as density / d^3. */
  readonly density: Float64Array;
}

export interface SizeDistributionFigureData {
  readonly title: string;
  readonly subtitle?: string;
  /** Core diameters at the middle of their cells in ln d, ascending, shape [m]. */
  readonly diameter_m: Float64Array;
  /** Share of the core volume in each cell, not negative, of any sum above 0, shape [m]. */
  readonly volumeShare: Float64Array;
  /** 2.5 % and 97.5 % quantiles of replicas of `volumeShare`, in its scale; both or neither. */
  readonly low?: Float64Array | undefined;
  readonly high?: Float64Array | undefined;
  /** Share of the particles in each cell; without it volumeShare / d^3. */
  readonly numberShare?: Float64Array | undefined;
  readonly curves?: readonly SizeCurve[];
}

/** A density over ln d in nm, cell by cell, with the edges of the cells. */
interface Cells {
  readonly edges_nm: readonly number[];
  readonly density: readonly number[];
}

function checked({ diameter_m, volumeShare, low, high, numberShare, curves = [] }: SizeDistributionFigureData): void {
  checkLengths({ volumeShare, low, high, numberShare }, diameter_m.length, "one for each diameter");
  if ((low === undefined) !== (high === undefined)) {
    const path = low === undefined ? "low" : "high";
    throw new FerruleError("ShapeMismatch", {
      path,
      found: "one side of a band",
      accepted: "low and high, or neither",
    });
  }
  checkDiameters("diameter_m", diameter_m);
  checkShares({ volumeShare, numberShare });
  for (const { label, diameter_m: diameters, density } of curves) {
    checkLengths({ [label]: density }, diameters.length, "one for each diameter");
    checkDiameters(label, diameters);
    checkShares({ [label]: density });
  }
}

function checkDiameters(path: string, diameter_m: Float64Array): void {
  const isAscending = diameter_m.every((d, i) => d > (i === 0 ? 0 : diameter_m[i - 1]) && Number.isFinite(d));
  if (isAscending && diameter_m.length >= 2) return;
  throw new FerruleError("InvalidValue", {
    path,
    found: isAscending ? `${diameter_m.length} diameters` : "diameters that do not ascend from above 0",
    accepted: "two or more ascending diameters, such as 10 nm and 12 nm",
  });
}

function checkShares(shares: Readonly<Record<string, Float64Array | undefined>>): void {
  for (const [path, values] of Object.entries(shares)) {
    if (values === undefined || (values.every((v) => v >= 0 && Number.isFinite(v)) && values.some((v) => v > 0)))
      continue;
    const found = values.every((v) => v === 0) ? "only zeros" : "a negative value, or one that is not finite";
    throw new FerruleError("InvalidValue", { path, found, accepted: "values of 0 or more, not all 0" });
  }
}

/** Edges halfway between neighbours in ln d; the outer cells are as wide to both sides. Shape [m + 1]. */
function cellEdges(diameter_m: Float64Array): number[] {
  const d = Array.from(diameter_m, (value) => value * 1e9);
  const inner = d.slice(1).map((value, i) => Math.sqrt(value * d[i]));
  const last = d.length - 1;
  return [d[0] ** 2 / inner[0], ...inner, d[last] ** 2 / inner[last - 1]];
}

/** Shares as a density over ln d: divided by the total and by the width of their cell. */
function densityOf(share: Float64Array, edges_nm: readonly number[], total: number): Cells {
  const density = Array.from(share, (value, j) => value / total / Math.log(edges_nm[j + 1] / edges_nm[j]));
  return { edges_nm, density };
}

const sum = (values: Float64Array): number => values.reduce((total, value) => total + value, 0);

/** f / d^3, for shares or densities; the first diameter keeps the numbers near 1. */
const byNumber = (values: Float64Array, diameter_m: Float64Array): Float64Array =>
  values.map((value, j) => value / (diameter_m[j] / diameter_m[0]) ** 3);

/** A density over ln d scaled to area 1 by the trapezoid rule, in nm. */
function unitCurve(diameter_m: Float64Array, density: Float64Array): { diameter_nm: number; density: number }[] {
  let area = 0;
  for (let i = 1; i < density.length; i++)
    area += ((density[i] + density[i - 1]) / 2) * Math.log(diameter_m[i] / diameter_m[i - 1]);
  return Array.from(density, (value, i) => ({ diameter_nm: diameter_m[i] * 1e9, density: value / area }));
}

interface Panel {
  readonly heading: string;
  readonly cells: Cells;
  readonly band?: { readonly low: Cells; readonly high: Cells } | undefined;
  readonly curves: readonly ReturnType<typeof unitCurve>[];
}

function panelsOf(data: SizeDistributionFigureData): { volume: Panel; number: Panel } {
  const { diameter_m, volumeShare, low, high, numberShare, curves = [] } = data;
  const edges = cellEdges(diameter_m);
  const total = sum(volumeShare);
  const numbers = numberShare ?? byNumber(volumeShare, diameter_m);
  const band = low && high ? { low: densityOf(low, edges, total), high: densityOf(high, edges, total) } : undefined;
  return {
    volume: {
      heading: "By volume: share of the core volume",
      cells: densityOf(volumeShare, edges, total),
      band,
      curves: curves.map((curve) => unitCurve(curve.diameter_m, curve.density)),
    },
    number: {
      heading: "By number: share of the particles (1/d\u00b3 lifts small cores, of which data say little)",
      cells: densityOf(numbers, edges, sum(numbers)),
      curves: curves.map((curve) => unitCurve(curve.diameter_m, byNumber(curve.density, curve.diameter_m))),
    },
  };
}

/** Corners of a staircase: two for each cell. */
const corners = ({ edges_nm, density }: Cells) =>
  density.flatMap((value, j) => [
    { diameter_nm: edges_nm[j], density: value },
    { diameter_nm: edges_nm[j + 1], density: value },
  ]);

/** Strokes of the curves set beside the distribution: apart in colour, and in grey by their dashes. */
const strokes = [
  { colour: palette.model, dash: "7 3" },
  { colour: "#009e73", dash: "2 3" },
  { colour: "#cc79a7", dash: "9 3 2 3" },
  { colour: palette.ink, dash: "4 4" },
] as const;

function drawn({ heading, cells, band, curves }: Panel, label: string | null, { width, canvas }: PanelSize): SvgPanel {
  const { Plot } = canvas;
  const { edges_nm } = cells;
  const words = shortened(heading, Math.floor((width - 32) / letter_px));
  const domain = [edges_nm[0], edges_nm[edges_nm.length - 1]] as const;
  const isInside = ({ diameter_nm }: { diameter_nm: number }) => diameter_nm >= domain[0] && diameter_nm <= domain[1];
  const inside = curves.map((curve) => curve.filter(isInside));
  const heights = [...cells.density, ...(band?.high.density ?? []), ...inside.flat().map(({ density }) => density)];
  const top = 1.04 * heights.reduce((most, value) => Math.max(most, value), 0);
  const lower = band && corners(band.low);
  const bandCorners = band && corners(band.high).map((point, i) => ({ ...point, low: lower?.[i].density }));
  const bandLook = { y1: "low", y2: "density", fill: palette.data, fillOpacity: 0.22 };
  return renderPlot(
    {
      width,
      height: label === null ? 234 : 262,
      marginLeft: 68,
      marginRight: 24,
      marginTop: 34,
      marginBottom: label === null ? 18 : 46,
      x: {
        type: "log",
        domain,
        ticks: logTicks(domain),
        tickFormat: label === null ? () => "" : (value: number) => String(Number(value.toPrecision(3))),
        label,
        ...centred,
        labelOffset: 38,
      },
      y: { domain: [0, top], label: "Per unit ln d (area 1)", ...centred, labelOffset: 54, grid: true, ticks: 5 },
      marks: [
        ...(bandCorners ? [Plot.areaY(bandCorners, { x: "diameter_nm", ...bandLook })] : []),
        Plot.ruleY([0], { stroke: palette.quiet }),
        Plot.line(corners(cells), { x: "diameter_nm", y: "density", stroke: palette.data, strokeWidth: 2 }),
        ...inside.map((curve, i) => {
          const { colour, dash } = strokes[i % strokes.length];
          const look = { stroke: colour, strokeDasharray: dash, strokeWidth: 1.8 };
          return Plot.line(curve, { x: "diameter_nm", y: "density", ...look });
        }),
        Plot.text([words], { frameAnchor: "top-left", dy: -20, dx: -52, textAnchor: "start", fill: palette.ink }),
      ],
    },
    canvas,
  );
}

/**
 * A distribution of core diameters, by volume and by number, over the logarithm of the diameter. Both are shares per
 * unit ln d with area 1: d^3 lies between them, so that one must never be read as the other.
 *
 * @throws FerruleError ShapeMismatch, InvalidValue (diameters that do not ascend, negative shares, nothing but zeros)
 */
export async function sizeDistributionFigure(
  data: SizeDistributionFigureData,
  { width = 720, document }: { width?: number; document?: FigureDocument } = {},
): Promise<Figure> {
  checked(data);
  const canvas = await openCanvas(document);
  const size = { width, canvas };
  const { volume, number } = panelsOf(data);
  const entries: KeyEntry[] = [
    { words: "distribution", colour: palette.data, line: {} },
    ...(volume.band === undefined
      ? []
      : [{ words: "2.5 % to 97.5 % of the replicas (by volume)", colour: palette.data, band: true }]),
    ...(data.curves ?? []).map(({ label }, i) => {
      const { colour, dash } = strokes[i % strokes.length];
      return { words: label, colour, line: { dash } };
    }),
  ];
  const panels = [keyPanel(entries, size), drawn(volume, null, size), drawn(number, "Core diameter (nm)", size)];
  const description = `Distribution of core diameters in ${data.diameter_m.length} cells, by volume and by number.`;
  return { svg: headedSvg(panels, { ...data, description }, size), data: columnsOf(data, volume, number) };
}

/** One long table: the cells first, each curve after them; cells that do not apply are empty. */
function columnsOf({ diameter_m, curves = [] }: SizeDistributionFigureData, volume: Panel, number: Panel) {
  const extra = curves.reduce((count, curve) => count + curve.diameter_m.length, 0);
  const none = Array.from({ length: extra }, () => Number.NaN);
  const column = (name: string, unit: string, values: readonly number[]) => ({ name, unit, values });
  const joined = ({ cells, curves: lines }: Panel) => [...cells.density, ...lines.flat().map(({ density }) => density)];
  const series = ["0: distribution", ...curves.map(({ label }, i) => `${i + 1}: ${label}`)].join("; ");
  const index = curves.flatMap((curve, i) => Array.from(curve.diameter_m, () => i + 1));
  return [
    ...(curves.length === 0 ? [] : [column("series", series, [...Array.from(diameter_m, () => 0), ...index])]),
    column("diameter", "m", [...diameter_m, ...curves.flatMap((curve) => [...curve.diameter_m])]),
    column("volume_share_per_ln_d", "1", joined(volume)),
    ...Object.entries(volume.band ?? {}).map(([side, { density }]) =>
      column(`volume_share_per_ln_d_${side}`, "1", [...density, ...none]),
    ),
    column("number_share_per_ln_d", "1", joined(number)),
  ];
}
