import type { Dimension } from "./dimension.js";
import { noDimension } from "./dimension.js";
import type { SourceStatus } from "./formula.js";

/**
 * What a symbol says beyond its dimension. Hz, Bq and S/s are all 1/s, and Sv and Gy both J/kg: a kind that is due in
 * one of them must not take the other (see kind-rules.ts).
 */
export type Mark = "angle" | "ratio" | "activity" | "counts" | "samples" | "absorbed dose" | "equivalent dose";

export interface UnitSymbol {
  readonly symbol: string;
  readonly name: string;
  /** Other spellings of the same symbol; they take the same prefixes. */
  readonly aliases?: readonly string[];
  /** SI value = scale * 10^exponent10 * mu0^mu0Power. Powers of ten are kept apart so that 25 nm is exactly 2.5e-8. */
  readonly scale: number;
  readonly exponent10: number;
  readonly mu0Power?: number;
  readonly dimension: Dimension;
  /** Prefixes allowed for this symbol, blank-separated; the rest are refused. */
  readonly prefixes: string;
  readonly mark?: Mark;
  /** Kelvin at the zero of the scale: the symbol then stands alone, never in a product. */
  readonly isCelsius?: true;
  readonly status: SourceStatus;
  readonly note?: string;
}

/** Decimal prefixes by power of ten (SI brochure, from memory). `u` is micro; the micro signs are read as `u`. */
export const prefixExponents: Readonly<Record<string, number>> = {
  f: -15,
  p: -12,
  n: -9,
  u: -6,
  m: -3,
  c: -2,
  d: -1,
  h: 2,
  k: 3,
  M: 6,
  G: 9,
  T: 12,
};

type Extra = Partial<Omit<UnitSymbol, "symbol" | "name" | "dimension" | "prefixes">>;

function entry(symbol: string, name: string, dimension: Dimension, prefixes: string, extra: Extra = {}): UnitSymbol {
  return { symbol, name, dimension, prefixes, scale: 1, exponent10: 0, status: "from memory", ...extra };
}

const perSecond: Dimension = [0, 0, -1, 0, 0, 0, 0];
const joulePerKilogram: Dimension = [2, 0, -2, 0, 0, 0, 0];
const fluxDensity: Dimension = [0, 1, -2, -1, 0, 0, 0];
const read = { status: "read" } as const;

/**
 * The closed table of unit symbols. Case matters. Nothing outside it is read, and no two rows and prefixes give one
 * text (a test shows it): `min` is the minute because there is no inch, `cd` the candela because `d` takes no prefix.
 *
 * Source      UCUM, case-sensitive form, where UCUM has the symbol: rows marked "read" were seen in ucum-essence, the
 *             others follow the SI brochure and UCUM from memory; "common practice" rows are not UCUM.
 * Checked by  checks/units (factors from a general-purpose unit library)
 */
export const unitSymbols: readonly UnitSymbol[] = [
  entry("m", "metre", [1, 0, 0, 0, 0, 0, 0], "f p n u m c d k"),
  entry("g", "gram", [0, 1, 0, 0, 0, 0, 0], "f p n u m k", { exponent10: -3, ...read }),
  entry("s", "second", [0, 0, 1, 0, 0, 0, 0], "f p n u m", { note: "no `Ms`, `ks`: write min or h" }),
  entry("A", "ampere", [0, 0, 0, 1, 0, 0, 0], "f p n u m k M", read),
  entry("K", "kelvin", [0, 0, 0, 0, 1, 0, 0], "n u m"),
  entry("mol", "mole", [0, 0, 0, 0, 0, 1, 0], "f p n u m k", read),
  entry("cd", "candela", [0, 0, 0, 0, 0, 0, 1], ""),
  entry("L", "litre", [3, 0, 0, 0, 0, 0, 0], "f p n u m c d", { aliases: ["l"], exponent10: -3, ...read }),
  entry("min", "minute", [0, 0, 1, 0, 0, 0, 0], "", { scale: 60 }),
  entry("h", "hour", [0, 0, 1, 0, 0, 0, 0], "", { scale: 3600 }),
  entry("d", "day", [0, 0, 1, 0, 0, 0, 0], "", { scale: 86400, note: "the day, as in UCUM" }),
  entry("Hz", "hertz", perSecond, "u m k M G T"),
  entry("S/s", "samples per second", perSecond, "k M G", {
    mark: "samples",
    status: "common practice",
    note: "read only as the whole unit; `S` elsewhere is siemens",
  }),
  entry("T", "tesla", fluxDensity, "f p n u m k", read),
  entry("G", "gauss", fluxDensity, "n u m k", { exponent10: -4, ...read }),
  entry("Oe", "oersted", [-1, 0, 0, 1, 0, 0, 0], "m k", { scale: 250 / Math.PI, ...read, note: "250/pi A/m" }),
  entry("[mu_0]", "vacuum permeability", [1, 1, -2, -2, 0, 0, 0], "", {
    aliases: ["mu0"],
    mu0Power: 1,
    ...read,
    note: "also `µ0`; in `T/mu0`, `T/m/mu0`",
  }),
  entry("emu", "electromagnetic unit of moment", [2, 0, 0, 1, 0, 0, 0], "n u m", {
    exponent10: -3,
    status: "common practice",
    note: "1e-3 A.m2; not UCUM, written `mA.m2` there",
  }),
  entry("V", "volt", [2, 1, -3, -1, 0, 0, 0], "f p n u m k M"),
  entry("Ohm", "ohm", [2, 1, -3, -2, 0, 0, 0], "u m k M G", { aliases: ["ohm"], note: "also `Ω`" }),
  entry("S", "siemens", [-2, -1, 3, 2, 0, 0, 0], "n u m k"),
  entry("F", "farad", [-2, -1, 4, 2, 0, 0, 0], "f p n u m"),
  entry("H", "henry", [2, 1, -2, -2, 0, 0, 0], "p n u m"),
  entry("C", "coulomb", [0, 0, 1, 1, 0, 0, 0], "p n u m"),
  entry("W", "watt", [2, 1, -3, 0, 0, 0, 0], "p n u m k M"),
  entry("J", "joule", [2, 1, -2, 0, 0, 0, 0], "f p n u m k M"),
  entry("N", "newton", [1, 1, -2, 0, 0, 0, 0], "p n u m k"),
  entry("Pa", "pascal", [-1, 1, -2, 0, 0, 0, 0], "u m h k M G"),
  entry("P", "poise", [-1, 1, -1, 0, 0, 0, 0], "m c", { exponent10: -1, note: "1 cP = 1 mPa.s" }),
  entry("Bq", "becquerel", perSecond, "m k M G T", { mark: "activity" }),
  entry("Ci", "curie", perSecond, "n u m k", { scale: 37, exponent10: 9, mark: "activity" }),
  entry("cps", "counts per second", perSecond, "k M", {
    mark: "counts",
    status: "common practice",
    note: "what a detector counts, not an activity",
  }),
  entry("Sv", "sievert", joulePerKilogram, "n u m", { mark: "equivalent dose" }),
  entry("Gy", "gray", joulePerKilogram, "u m c k", { mark: "absorbed dose" }),
  entry("rad", "radian", noDimension, "u m", { mark: "angle", note: "the angle, not the old dose unit" }),
  entry("deg", "degree of angle", noDimension, "", { aliases: ["°"], scale: Math.PI / 180, mark: "angle" }),
  entry("Cel", "degree Celsius", [0, 0, 0, 0, 1, 0, 0], "", {
    aliases: ["°C", "degC"],
    isCelsius: true,
    note: "a point on the scale; refused in products, write K there",
  }),
  entry("%", "per cent", noDimension, "", { exponent10: -2, mark: "ratio" }),
  entry("ppm", "parts per million", noDimension, "", {
    exponent10: -6,
    mark: "ratio",
    status: "common practice",
    note: "UCUM writes `[ppm]`",
  }),
];
