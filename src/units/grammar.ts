import type { ErrorPlace } from "../errors.js";
import { FerruleError } from "../errors.js";
import { celsiusZero_K, vacuumPermeability_T_m_per_A } from "./constants.js";
import type { Dimension } from "./dimension.js";
import { combine, noDimension } from "./dimension.js";
import { adviceOnSymbol } from "./refusals.js";
import type { KnownSymbol } from "./symbol-lookup.js";
import { lookUpSymbol } from "./symbol-lookup.js";
import type { Mark } from "./symbols.js";

/**
 * A unit as read: SI value = number * factor + offset_K.
 * `scale`, `exponent10` and `mu0Power` are the parts of the factor; powers of ten stay apart so that conversions by
 * them can be exact in decimals, and mu0 so that "20 mT/mu0" as an applied field is 0.02 T without rounding.
 */
export interface Unit {
  readonly text: string;
  readonly factor: number;
  readonly offset_K: number;
  readonly dimension: Dimension;
  readonly scale: number;
  readonly exponent10: number;
  readonly mu0Power: number;
  readonly marks: readonly Mark[];
  /** The table's symbols without prefix, in reading order. */
  readonly symbols: readonly string[];
}

interface Factor {
  readonly known: KnownSymbol;
  readonly exponent: number;
}

const superscripts = "⁰¹²³⁴⁵⁶⁷⁸⁹";

/**
 * Read the text of a unit.
 *
 *   unit     = "1" | [ "1" ] "/" factors | factors          factors = factor { operator factor }
 *   operator = "." | "*" | "·" | "×" | blank (product) | "/" (divides by the next factor only, left to right)
 *   factor   = symbol [ exponent ] | root                    root = ( "sqrt" | "√" ) ( "(" symbol ")" | symbol )
 *   exponent = m2, m-1, m^2, m^-1, m², m⁻¹; half-integers after ^ only (Hz^0.5)
 *
 * So A/m/s = A.m-1.s-1, while A/m.s = A.m-1.s as in UCUM. Parentheses serve the root alone: a unit that needs more is
 * written with exponents, which cannot be misread. `S/s`, `kS/s`, `MS/s`, `GS/s` are read as whole texts (samples).
 *
 * Source      UCUM grammar, subset (from memory); blank, ·, ^, √ and mu0 are ours, as people write them
 * Checked by  checks/units
 */
export function parseUnit(text: string, place: ErrorPlace = {}): Unit {
  const clean = normalise(text);
  const samples = /^[kMG]?S\/s$/.test(clean) ? lookUpSymbol(clean) : undefined;
  const factors = samples === undefined ? readFactors(clean, text, place) : [{ known: samples, exponent: 1 }];
  refuseScaleInProduct(factors, text, place);
  return assemble(text, factors);
}

/** Spelling variants to one: signs, blanks, micro and ohm signs, superscripts, mu0. */
function normalise(text: string): string {
  return text
    .trim()
    .replace(/[\u00a0\u2009\u202f]/g, " ")
    .replace(/\u2212/g, "-")
    .replace(/\u2103|\u00baC/g, "°C")
    .replace(/[\u00b5\u03bc][0\u2080]|\bmu0\b|\bmu_0\b(?!\])/g, "[mu_0]")
    .replace(/[\u00b5\u03bc]/g, "u")
    .replace(/[\u03a9\u2126]/g, "Ohm")
    .replace(
      /⁻?[⁰¹²³⁴⁵⁶⁷⁸⁹]+/g,
      (run) => `^${[...run].map((c) => (c === "⁻" ? "-" : superscripts.indexOf(c))).join("")}`,
    );
}

const rootPattern = /(?:sqrt\s*|√\s*)(?:\(\s*([A-Za-z]+)\s*\)|([A-Za-z]+))/y;
const factorPattern = /(\[mu_0\]|%|°C|°|[A-Za-z]+)(?:\^([-+]?\d+(?:\.\d+)?)|([-+]?\d+))?/y;
const operatorPattern = /\s*([.*·⋅×/])\s*|\s+/y;

function readFactors(clean: string, text: string, place: ErrorPlace): Factor[] {
  if (clean === "1") return [];
  const factors: Factor[] = [];
  const start = /^1?\s*\/\s*/.exec(clean)?.[0] ?? "";
  let position = start.length;
  let sign = start === "" ? 1 : -1;
  while (true) {
    const read = readFactor(clean, position, { text, place });
    factors.push({ known: read.known, exponent: sign * read.exponent });
    if (read.end === clean.length) return factors;
    const operator = matchAt(operatorPattern, clean, read.end);
    if (operator === null) throw unreadable(text, clean.slice(read.end), place);
    sign = operator[1] === "/" ? -1 : 1;
    position = read.end + operator[0].length;
  }
}

function readFactor(clean: string, position: number, { text, place }: { text: string; place: ErrorPlace }) {
  const root = matchAt(rootPattern, clean, position);
  const match = root ?? matchAt(factorPattern, clean, position);
  if (match === null) throw unreadable(text, clean.slice(position), place);
  const symbol = root === null ? match[1] : (root[1] ?? root[2]);
  const known = lookUpSymbol(symbol);
  if (known === undefined) throw unknownSymbol(text, symbol, place);
  const exponent = root === null ? readExponent(match[2] ?? match[3], text, place) : 0.5;
  return { known, exponent, end: position + match[0].length };
}

function readExponent(digits: string | undefined, text: string, place: ErrorPlace): number {
  const exponent = digits === undefined ? 1 : Number(digits);
  if (exponent !== 0 && Math.abs(exponent) <= 9 && Number.isInteger(2 * exponent)) return exponent;
  throw new FerruleError("UnitMismatch", {
    ...place,
    found: `exponent ${digits} in unit "${text.trim()}"`,
    accepted: "whole or half exponents from 0.5 to 9 in size, such as m2, s^-1, Hz^0.5",
  });
}

function refuseScaleInProduct(factors: readonly Factor[], text: string, place: ErrorPlace): void {
  const isAlone = factors.length === 1 && factors[0].exponent === 1;
  if (isAlone || !factors.some(({ known }) => known.unit.isCelsius)) return;
  throw new FerruleError("UnitMismatch", {
    ...place,
    found: `unit "${text.trim()}"`,
    accepted: "K in products and quotients, such as W/K: Cel marks a point on a scale and stands alone",
  });
}

function assemble(text: string, factors: readonly Factor[]): Unit {
  let [scale, exponent10, mu0Power, dimension] = [1, 0, 0, noDimension];
  for (const { known, exponent } of factors) {
    const decimal = exponent * (known.unit.exponent10 + known.prefixExponent);
    const whole = Math.trunc(decimal); // half powers leave a factor of 10^0.5 to the scale
    scale *= known.unit.scale ** exponent * 10 ** (decimal - whole);
    exponent10 += whole;
    mu0Power += exponent * (known.unit.mu0Power ?? 0);
    dimension = combine(dimension, known.unit.dimension, exponent);
  }
  const units = factors.map(({ known }) => known.unit);
  const marks = [...new Set(units.flatMap(({ mark }) => mark ?? []))];
  const factor = scale * Number(`1e${exponent10}`) * vacuumPermeability_T_m_per_A ** mu0Power;
  const offset_K = units.some(({ isCelsius }) => isCelsius) ? celsiusZero_K : 0;
  const symbols = units.map(({ symbol }) => symbol);
  return { text: text.trim(), factor, offset_K, dimension, scale, exponent10, mu0Power, marks, symbols };
}

function matchAt(pattern: RegExp, text: string, position: number): RegExpExecArray | null {
  pattern.lastIndex = position;
  return pattern.exec(text);
}

function unknownSymbol(text: string, symbol: string, place: ErrorPlace): FerruleError {
  const advice = adviceOnSymbol(symbol);
  const where = symbol === text.trim() ? `unit "${symbol}"` : `"${symbol}" in unit "${text.trim()}"`;
  const accepted = advice === "" ? "a symbol of the unit table, such as mT, T/m, ug, mg/mL, kHz" : advice;
  return new FerruleError("UnitMismatch", { ...place, found: where, accepted });
}

function unreadable(text: string, rest: string, place: ErrorPlace): FerruleError {
  const found =
    text.trim() === "" ? "no unit" : `${rest === "" ? "an end too early" : `"${rest}"`} in unit "${text.trim()}"`;
  const word = /^[A-Za-z]+/.exec(rest)?.[0] ?? "";
  const advice = word === "" ? "" : adviceOnSymbol(word);
  const accepted = "symbols joined by . or /, with whole exponents, such as T/m, A.m2/kg, V/Hz^0.5";
  return new FerruleError("UnitMismatch", { ...place, found, accepted: advice === "" ? accepted : advice });
}
