import { type BoreOutline, boreLines, type FieldFreeMark, markInPlane } from "./bore-outline.js";
import { clippedLine, type Frame, type Point } from "./clip-line.js";
import { contourLabels, type PlacedLabel } from "./contour-labels.js";
import { contourLines } from "./contour-lines.js";
import { pngAddress } from "./indexed-png.js";
import { centred } from "./key-panel.js";
import { plainNumber } from "./mass-unit.js";
import { palette } from "./palette.js";
import { axesOf, centresOf, frameOf, letterOf, type PlaneValues, stepsOf } from "./plane-cells.js";
import { type Canvas, renderPlot, type SvgPanel } from "./render.js";
import { type SequentialRampName, sequentialRgb } from "./sequential-ramp.js";

/** How values are coloured and named; beyond the ends the end colour holds. */
export interface PlaneScale {
  readonly ramp: SequentialRampName;
  /** In SI. */
  readonly low: number;
  readonly high: number;
  /** Shown = value x factor. */
  readonly factor: number;
  readonly unit: string;
  readonly quantity: string;
}

/** A contour in SI, and words for it: the first that find a place on the line are written there. */
export interface PlaneLevel {
  readonly value: number;
  readonly words: readonly string[];
}

/** Parts of a unit vector in the plane, at a place, mm. */
export interface DirectionStroke {
  readonly x: number;
  readonly y: number;
  readonly across: number;
  readonly up: number;
}

export interface PlaneDrawing {
  readonly scale: PlaneScale;
  readonly levels: readonly PlaneLevel[];
  readonly boreOutline?: BoreOutline | undefined;
  readonly marks?: readonly FieldFreeMark[] | undefined;
  readonly perMm: number;
  readonly canvas: Canvas;
}

export const planeEdges = { left: 52, right: 10, top: 24, bottom: 42 } as const;

const clearIndex = 0;

/** Cells as a picture: 255 colours of the ramp, and none where there is no value. */
export function cellPicture({ shape, values }: PlaneValues, { low, high, ramp }: PlaneScale): string {
  const [height, width] = shape;
  const colours = Array.from({ length: 256 }, (_, i) => sequentialRgb((i - 1) / 254, ramp));
  const indices = new Uint8Array(values.length);
  for (let row = 0; row < height; row++)
    for (let column = 0; column < width; column++) {
      const value = values[row * width + column];
      const part = Math.min(1, Math.max(0, (value - low) / (high - low)));
      // The lowest row of the plane is the last of the picture.
      indices[(height - 1 - row) * width + column] = Number.isFinite(value) ? 1 + Math.round(254 * part) : clearIndex;
    }
  return pngAddress({ width, height, indices, colours, clearIndex });
}

interface LinePoint {
  readonly line: number;
  readonly x: number;
  readonly y: number;
}

const linePoints = (lines: readonly (readonly Point[])[]): LinePoint[] =>
  lines.flatMap((points, line) => points.map(([x, y]) => ({ line, x, y })));

interface Stroke {
  readonly stroke: string;
  readonly strokeWidth: number;
  readonly strokeDasharray?: string;
}

/** A line with a white rim: seen on light and on dark cells. */
export function rimmedLines(
  lines: readonly (readonly Point[])[],
  { strokeWidth, ...look }: Stroke,
  Plot: Canvas["Plot"],
) {
  const points = linePoints(lines);
  const place = { x: "x", y: "y", z: "line" };
  if (points.length === 0) return [];
  return [
    Plot.line(points, { ...place, stroke: palette.paper, strokeWidth: strokeWidth + 2.2, strokeOpacity: 0.75 }),
    Plot.line(points, { ...place, ...look, strokeWidth }),
  ];
}

/** The look of each kind of line, here and in the key. */
export const planeStrokes = {
  contour: { stroke: palette.ink, strokeWidth: 1 },
  bore: { stroke: palette.quiet, strokeWidth: 1.8, strokeDasharray: "7 4" },
  fieldFree: { stroke: palette.model, strokeWidth: 2.4 },
} as const;

/** Contours, and apart from them their labels: these lie on top of everything, off the other lines where they can. */
function contourMarks(slice: PlaneValues, { levels, perMm, canvas: { Plot } }: PlaneDrawing, others: readonly Point[]) {
  const frame = frameOf(slice);
  const grid = { ...centresOf(slice), values: slice.values };
  const inside = { left: 0, right: (frame.right - frame.left) * perMm, low: 0, high: (frame.high - frame.low) * perMm };
  const drawn = levels.map(({ value, words }) => ({ words, lines: contourLines(grid, value) }));
  const toPixels = ([x, y]: Point): Point => [(x - frame.left) * perMm, (y - frame.low) * perMm];
  const placed = contourLabels(
    drawn.map(({ words, lines }) => ({ words, lines: lines.map((line) => line.map(toPixels)) })),
    { frame: inside, others: others.map(toPixels) },
  );
  const lines = rimmedLines(
    drawn.flatMap((level) => level.lines),
    planeStrokes.contour,
    Plot,
  );
  const labels = [
    Plot.text(placed, {
      x: ({ x }: PlacedLabel) => frame.left + x / perMm,
      y: ({ y }: PlacedLabel) => frame.low + y / perMm,
      text: "words",
      fill: palette.ink,
      stroke: palette.paper,
      strokeWidth: 4,
      fontSize: 12,
    }),
  ];
  return { lines, labels };
}

const toMm = (points: readonly Point[]): Point[] => points.map(([x, y]) => [x * 1e3, y * 1e3]);

function boreIn(slice: PlaneValues, { boreOutline }: PlaneDrawing): Point[][] {
  if (boreOutline === undefined) return [];
  return boreLines(boreOutline, slice).flatMap((line) => clippedLine(toMm(line), frameOf(slice)));
}

/** Points along lines, no further apart than `step`. */
function alongLines(lines: readonly (readonly Point[])[], step: number): Point[] {
  return lines.flatMap((line) =>
    line.slice(1).flatMap((b, i) => {
      const a = line[i];
      const count = Math.ceil(Math.hypot(b[0] - a[0], b[1] - a[1]) / step);
      return Array.from({ length: count }, (_, k): Point => {
        const t = k / count;
        return [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
      });
    }),
  );
}

const isInside = ({ left, right, low, high }: Frame, [x, y]: Point): boolean =>
  x >= left && x <= right && y >= low && y <= high;

/** Marks of the field-free point or line that this plane holds, mm. */
function fieldFreeIn(slice: PlaneValues, { marks = [] }: PlaneDrawing): { lines: Point[][]; points: Point[] } {
  const reach_m = Math.max(...stepsOf(slice));
  const frame = frameOf(slice);
  const shown = marks.flatMap((mark) => {
    const points = markInPlane(mark, slice, { reach_m });
    return points === null ? [] : [toMm(points)];
  });
  const lines = shown.filter(({ length }) => length === 2).flatMap((line) => clippedLine(line, frame));
  const points = shown.filter((each) => each.length === 1 && isInside(frame, each[0])).map(([point]) => point);
  return { lines, points };
}

function fieldFreeMarks({ lines, points }: ReturnType<typeof fieldFreeIn>, Plot: Canvas["Plot"]) {
  const place = { x: "0", y: "1", symbol: "times" } as const;
  return [
    ...rimmedLines(lines, planeStrokes.fieldFree, Plot),
    Plot.dot(points, { ...place, r: 6, stroke: palette.paper, strokeWidth: 5 }),
    Plot.dot(points, { ...place, r: 6, stroke: palette.model, strokeWidth: 2.4 }),
  ];
}

function strokeMarks(strokes: readonly DirectionStroke[], length: number, Plot: Canvas["Plot"]) {
  const look = {
    x: "x",
    y: "y",
    anchor: "middle",
    shape: "arrow",
    length: ({ across, up }: DirectionStroke) => length * Math.hypot(across, up),
    rotate: ({ across, up }: DirectionStroke) => (Math.atan2(across, up) * 180) / Math.PI,
  } as const;
  return [
    Plot.vector(strokes, { ...look, stroke: palette.paper, strokeWidth: 2.8, strokeOpacity: 0.7 }),
    Plot.vector(strokes, { ...look, stroke: palette.ink, strokeWidth: 1 }),
  ];
}

/** One plane in its frame: cells, contours, directions, bore and marks, axes in mm, and where it lies. */
export function planePanel(
  slice: PlaneValues,
  drawing: PlaneDrawing,
  { strokes = [], strokeLength = 12 }: { strokes?: readonly DirectionStroke[]; strokeLength?: number } = {},
): SvgPanel {
  const { perMm, scale, canvas } = drawing;
  const { Plot } = canvas;
  const { across, up, normal } = axesOf(slice);
  const { left, right, low, high } = frameOf(slice);
  const [wide, tall] = [(right - left) * perMm, (high - low) * perMm];
  const bore = boreIn(slice, drawing);
  const free = fieldFreeIn(slice, drawing);
  const contours = contourMarks(slice, drawing, [...alongLines([...bore, ...free.lines], 3 / perMm), ...free.points]);
  const axis = (from: number, to: number, index: number) => ({
    type: "linear" as const,
    domain: [from, to],
    label: `${letterOf(index)} (mm)`,
    ...centred,
    ticks: Math.max(3, Math.round(((to - from) * perMm) / 55)),
    tickFormat: (v: number) => plainNumber(v, 4),
  });
  return renderPlot(
    {
      width: planeEdges.left + planeEdges.right + wide,
      height: planeEdges.top + planeEdges.bottom + tall,
      marginLeft: planeEdges.left,
      marginRight: planeEdges.right,
      marginTop: planeEdges.top,
      marginBottom: planeEdges.bottom,
      x: { ...axis(left, right, across), labelOffset: 36 },
      y: { ...axis(low, high, up), labelOffset: 44 },
      length: { type: "identity" },
      marks: [
        Plot.image([cellPicture(slice, scale)], {
          src: (address: string) => address,
          frameAnchor: "middle",
          width: wide,
          height: tall,
          preserveAspectRatio: "none",
          imageRendering: "pixelated",
        }),
        ...strokeMarks(strokes, strokeLength, Plot),
        ...contours.lines,
        ...rimmedLines(bore, planeStrokes.bore, Plot),
        ...fieldFreeMarks(free, Plot),
        ...contours.labels,
        Plot.frame({ stroke: palette.quiet, strokeWidth: 0.8 }),
        Plot.text([`${letterOf(normal)} = ${plainNumber(Number((slice.at_m * 1e3).toFixed(3)), 4)} mm`], {
          frameAnchor: "top-left",
          dy: -18,
          fill: palette.ink,
        }),
      ],
    },
    canvas,
  );
}
