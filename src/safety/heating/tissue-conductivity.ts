import { FerruleError } from "../../errors.js";
import { formatQuantity, type SourceStatus } from "../../units/index.js";
import { requirePositive } from "../ranges.js";

interface ConductivityRow {
  readonly tissue: string;
  readonly frequency_Hz: number;
  readonly conductivity_S_per_m: number;
  readonly source: string;
}

const lowFrequency = "PMC5361410, table 1 (below 1 kHz)";
const dispersive =
  "BioMedical Engineering OnLine, doi 10.1186/s12938-018-0473-9, table 3 (a dispersion model of tissues)";

/** Rows "below 1 kHz" stand at 1 kHz. */
const rows: readonly ConductivityRow[] = [
  ...(
    [
      ["blood", 0.67],
      ["muscle", 0.16],
      ["fat", 0.025],
      ["grey matter", 0.1],
      ["skin", 0.43],
      ["cerebrospinal fluid", 1.8],
    ] as const
  ).map(([tissue, value]) => ({
    tissue,
    frequency_Hz: 1e3,
    conductivity_S_per_m: value,
    source: lowFrequency,
  })),
  ...dispersion("muscle across fibres", [0.341, 0.362, 0.503]),
  ...dispersion("muscle along fibres", [1.022, 1.086, 1.508]),
  ...dispersion("fat", [0.0238, 0.0244, 0.0251]),
];

export const tissues: readonly string[] = [...new Set(rows.map(({ tissue }) => tissue))];

/** A published conductivity, at the frequency nearest to the one asked for. */
export interface TissueConductivity {
  readonly conductivity_S_per_m: number;
  readonly atFrequency_Hz: number;
  readonly source: string;
  readonly status: SourceStatus;
  readonly caution: string;
}

/**
 * Conductivity of a tissue: the published value nearest in ln f. Nothing is interpolated.
 *
 * @param tissue  one of `tissues`
 * Valid for   about a factor of two: tables for one tissue differ by that (muscle 0.16 against 0.34 S/m)
 * Source      the two tables named in the rows; read
 * Checked by  checks/limits (rows P19, P20)
 */
export function tissueConductivity(tissue: string, frequency_Hz: number): TissueConductivity {
  requirePositive(frequency_Hz, "frequency_Hz", "25e3 (25 kHz)");
  const distance = (row: ConductivityRow) => Math.abs(Math.log(row.frequency_Hz / frequency_Hz));
  const [nearest] = rows.filter((row) => row.tissue === tissue).sort((a, b) => distance(a) - distance(b));
  if (nearest === undefined)
    throw new FerruleError("UnknownName", { path: "tissue", found: `"${tissue}"`, accepted: tissues.join(", ") });
  const asked = formatQuantity(frequency_Hz, "frequency");
  return {
    conductivity_S_per_m: nearest.conductivity_S_per_m,
    atFrequency_Hz: nearest.frequency_Hz,
    source: nearest.source,
    status: "read",
    caution: `${tissue}: published at ${formatQuantity(nearest.frequency_Hz, "frequency")}, used at ${asked}; tables differ by a factor of two, and fibres make muscle conduct three times better along than across`,
  };
}

function dispersion(tissue: string, values: readonly [number, number, number]): ConductivityRow[] {
  return values.map((conductivity_S_per_m, i) => ({
    tissue,
    frequency_Hz: 10 ** (4 + i),
    conductivity_S_per_m,
    source: dispersive,
  }));
}
