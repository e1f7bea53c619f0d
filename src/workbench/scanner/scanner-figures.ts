import type { ScannerModel } from "../../documents/index.js";
import {
  type BoreOutline,
  type FieldFreeMark,
  type Figure,
  fieldSliceFigure,
  figureCsv,
  gradientErrorFigure,
  type LimitGroup,
  limitBarsFigure,
  sensitivityFigure,
} from "../../figures/index.js";
import {
  axisIndex,
  type FieldFunction,
  fieldOfSources,
  gradientErrorMap,
  type PlaneGrid,
  planePoints,
} from "../../physics/index.js";
import { formatQuantity } from "../../units/index.js";
import type { ScannerAnalysis } from "./analyse-scanner.js";
import { selectionField } from "./scanner-fields.js";

type Plane = PlaneGrid["plane"];
const planes: readonly Plane[] = ["xz", "yz", "xy"];
const planeAxes = { xy: [0, 1, 2], xz: [0, 2, 1], yz: [1, 2, 0] } as const;

/** Cells a side: a field is smooth on the scale of the bore, a gradient error costs 12 fields a cell. */
const cells = { field: 61, error: 31 };

/** Every figure of a scanner with its numbers, as files: field, gradient error, sensitivity, limits. */
export async function scannerFigures(
  analysis: ScannerAnalysis,
  { onProgress }: { readonly onProgress?: (what: string) => void } = {},
): Promise<Record<string, string>> {
  const makers: readonly (readonly [string, () => Promise<Figure | undefined>])[] = [
    ["field", () => fieldFigure(analysis)],
    ["gradient-error", () => errorFigure(analysis)],
    ["sensitivity", () => receiveFigure(analysis)],
    ["limits", () => limitsFigure(analysis)],
  ];
  const files: Record<string, string> = {};
  for (const [name, make] of makers) {
    onProgress?.(name);
    const figure = await make();
    if (figure === undefined) continue;
    files[`${name}.svg`] = figure.svg;
    files[`${name}.csv`] = figureCsv(figure);
  }
  return files;
}

function gridOf(plane: Plane, { bore }: ScannerModel, { count, at_m }: { count: number; at_m: readonly number[] }) {
  const [across, up, normal] = planeAxes[plane];
  const reach = (axis: number) => (axis === axisIndex(bore.axis) ? bore.halfLength_m : bore.radius_m);
  const span = (axis: number): readonly [number, number] => [-reach(axis), reach(axis)];
  return { plane, shape: [count, count], across_m: span(across), up_m: span(up), offset_m: at_m[normal] } as const;
}

function outlineOf({ bore }: ScannerModel): BoreOutline {
  return { axis: bore.axis, radius_m: bore.radius_m, length_m: 2 * bore.halfLength_m };
}

function marksOf({ field: { region, reference } }: ScannerAnalysis): FieldFreeMark[] {
  const [line] = region.lines;
  if (line !== undefined) return [{ kind: "line", through_m: line.point_m, direction: line.direction }];
  return [{ kind: "point", at_m: reference.center_m }];
}

function fieldFigure(analysis: ScannerAnalysis): Promise<Figure> {
  const { scanner, field } = analysis;
  const source = selectionField(scanner);
  const slices = planes.map((plane) => {
    const grid = gridOf(plane, scanner, { count: cells.field, at_m: field.reference.center_m });
    const vectors = source(planePoints(grid));
    const part = (axis: number) => Float64Array.from({ length: cells.field ** 2 }, (_, i) => vectors[3 * i + axis]);
    const [across, up] = planeAxes[plane];
    return {
      ...asPlane(grid),
      values: magnitudes(vectors),
      components: { across_T: part(across), up_T: part(up) },
    };
  });
  return fieldSliceFigure({
    title: `Selection field of ${scanner.name}`,
    subtitle:
      scanner.selectionField.kind === "ideal" ? "ideal gradient" : "of its coils and magnets, without shift field",
    slices,
    fieldFree: marksOf(analysis),
    boreOutline: outlineOf(scanner),
  });
}

async function errorFigure(analysis: ScannerAnalysis): Promise<Figure | undefined> {
  const { scanner, field } = analysis;
  if (scanner.selectionField.kind === "ideal") return undefined;
  const slices = planes.map((plane) => {
    const grid = gridOf(plane, scanner, { count: cells.error, at_m: field.reference.center_m });
    const { values } = gradientErrorMap(selectionField(scanner), grid, {
      reference: field.reference,
      step_m: scanner.bore.radius_m / 400,
      order: 4,
    });
    return { ...asPlane(grid), values };
  });
  return gradientErrorFigure({
    title: `Gradient error of ${scanner.name}`,
    subtitle: "size of (local gradient - gradient at the centre) over the gradient at the centre",
    slices,
    fieldFree: marksOf(analysis),
    boreOutline: outlineOf(scanner),
  });
}

/** The first channel whose windings are stated; the coil's field along its axis. */
async function receiveFigure({ scanner }: ScannerAnalysis): Promise<Figure | undefined> {
  const channel = scanner.receive.find(({ windings }) => windings !== undefined);
  if (channel?.windings === undefined) return undefined;
  const coil: FieldFunction = fieldOfSources(channel.windings.flatMap(({ sources }) => sources));
  const axis = axisIndex(channel.axis);
  const slices = planes.map((plane) => {
    const grid = gridOf(plane, scanner, { count: cells.field, at_m: [0, 0, 0] });
    const points = planePoints(grid);
    const vectors = coil(points);
    return {
      ...asPlane(grid),
      // Beyond the bore lie the windings themselves, where a sensitivity means nothing.
      values: Float64Array.from({ length: cells.field ** 2 }, (_, i) =>
        isWithinRadius(points, i, scanner) ? Math.abs(vectors[3 * i + axis]) : Number.NaN,
      ),
    };
  });
  return sensitivityFigure({
    title: `Receive sensitivity of ${scanner.name}`,
    subtitle: `channel ${channel.axis}: field along ${channel.axis} per ampere, by reciprocity`,
    reference_T_per_A: channel.sensitivity_T_per_A,
    slices,
    boreOutline: outlineOf(scanner),
  });
}

function isWithinRadius(points: Float64Array, i: number, { bore }: ScannerModel): boolean {
  const across = [0, 1, 2].filter((axis) => axis !== axisIndex(bore.axis));
  return Math.hypot(...across.map((axis) => points[3 * i + axis])) <= bore.radius_m * (1 + 1e-9);
}

function limitsFigure({ scanner, limits }: ScannerAnalysis): Promise<Figure> {
  const classes = ["scan subject", "animal", "staff"] as const;
  const groups: LimitGroup[] = classes.map((name) => ({
    class: name,
    lines: limits.bands.filter((band) => band.class === name).map((band) => limitBar(band, limits.lines)),
  }));
  return limitBarsFigure(
    {
      title: `Limits beside ${scanner.name}`,
      subtitle: `at its largest fields; part "${limits.subject}" in the bore; value and limit of the strictest source in words`,
      groups: groups.filter(({ lines }) => lines.length > 0),
    },
    { width: limitsWidth_px },
  );
}

/** Sources in full want more room than a figure has as a rule. */
const limitsWidth_px = 900;

type Limits = ScannerAnalysis["limits"];

/** A band with the words of all its sources; value and limit are those of the strictest. */
function limitBar(band: Limits["bands"][number], lines: Limits["lines"]): LimitGroup["lines"][number] {
  const own = lines.filter(
    ({ class: name, quantity, axis, bodyPart }) =>
      name === band.class && quantity === band.quantity && axis === band.axis && bodyPart === band.bodyPart,
  );
  const words = (value: number) => formatQuantity(value, own[0].kind, { digits: 3 });
  const strictest = own.find(({ ratio }) => ratio !== null && ratio === band.ratio?.high) ?? own[0];
  return {
    label: band.quantity,
    ratioLow: band.ratio?.low ?? null,
    ratioHigh: band.ratio?.high ?? null,
    value: words(strictest.value),
    ...(strictest.limit === null ? {} : { limit: words(strictest.limit) }),
    sources: own.map(({ source, edition, limit, caution }) => ({
      name: limit === null && band.ratio !== null ? `${source}: no threshold` : source,
      edition: edition === "none" ? "no edition" : edition,
      caution,
    })),
  };
}

function asPlane({ plane, shape, across_m, up_m, offset_m }: ReturnType<typeof gridOf>) {
  return { plane, at_m: offset_m, shape, across_m, up_m };
}

function magnitudes(vectors: Float64Array): Float64Array {
  return Float64Array.from({ length: vectors.length / 3 }, (_, i) =>
    Math.hypot(vectors[3 * i], vectors[3 * i + 1], vectors[3 * i + 2]),
  );
}
