import { FerruleError } from "../errors.js";

/** One column of the numbers that a figure shows. */
export interface FigureColumn {
  /** snake_case; the unit is separate. */
  readonly name: string;
  readonly unit: string;
  readonly values: ArrayLike<number>;
}

/** A picture never travels without its numbers. */
export interface Figure {
  /** A complete SVG document. */
  readonly svg: string;
  /** Columns of equal length. */
  readonly data: readonly FigureColumn[];
}

/** RFC 4180: quote where needed, double the quotes inside. */
const csvCell = (text: string): string => (/[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);

const csvNumber = (value: number): string => (Number.isFinite(value) ? String(value) : "");

/**
 * The numbers of a figure as CSV (RFC 4180): header `name [unit]`, decimal points, shortest digits that read back to the
 * same double; a value that is not finite becomes an empty cell.
 *
 * @throws FerruleError ShapeMismatch for columns of unequal length
 */
export function figureCsv({ data }: Pick<Figure, "data">): string {
  const length = data[0]?.values.length ?? 0;
  const uneven = data.find(({ values }) => values.length !== length);
  if (uneven !== undefined) {
    const found = `${uneven.values.length} values in ${uneven.name}, ${length} in ${data[0].name}`;
    throw new FerruleError("ShapeMismatch", { path: uneven.name, found, accepted: `${length} values in every column` });
  }
  const header = data.map(({ name, unit }) => csvCell(`${name} [${unit}]`)).join(",");
  const rows = Array.from({ length }, (_, i) => data.map(({ values }) => csvNumber(values[i])).join(","));
  return [header, ...rows, ""].join("\r\n");
}
