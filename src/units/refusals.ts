import { distance } from "fastest-levenshtein";
import { knownSymbolTexts, lookUpSymbol } from "./symbol-lookup.js";
import { prefixExponents, unitSymbols } from "./symbols.js";

/**
 * What to say about a symbol that we do not read: first the known traps, then the symbol it may have been meant to be.
 * A trap is refused even where a reading exists elsewhere, because two readers would read it differently.
 */
const traps: ReadonlyArray<readonly [pattern: RegExp, advice: string]> = [
  [/^[fpnum]?M$/, "molar or mega cannot be told apart: write mmol/L, umol/L or nmol/L"],
  [/^u$/, "u alone is no unit here (a prefix, or the atomic mass unit): write the whole symbol, such as ug or um"],
  [/^U$/, "U is not micro: write u or µ, as in ug"],
  [/^U[A-Za-z]+$/, "U is not micro: write u or µ, as in ug"],
  [/^mc[gLlm]$/, "write ug, uL or um: the prefix mc is not read"],
  [/^cc$/, "write cm3 or mL"],
  [/^ccm$/, "write cm3 or mL"],
  [/^(milli|micro)?gauss$/i, "write the symbol G (1 G = 0.1 mT)"],
  [/^Gs$/, "write G for gauss"],
  [/^(milli|micro|nano)?teslas?$/i, "write the symbol T, mT or uT"],
  [/^(kilo)?oersteds?$/i, "write the symbol Oe"],
  [/^(kilo|mega)?hertz$/i, "write the symbol Hz, kHz or MHz"],
  [/^(milli|micro)?sec(ond)?s?$|^[mun]?secs?$/i, "write the symbol s, ms or us"],
  [/^min(ute)?s$|^minute$/i, "write the symbol min"],
  [/^hrs?$|^hours?$/i, "write the symbol h"],
  [/^days?$/i, "write the symbol d"],
  [/^degrees?$/i, "write deg for an angle, Cel or °C for a temperature"],
  [/^(milli|micro|nano)?grams?$/i, "write the symbol g, mg, ug or ng"],
  [/^(milli|micro)?lit(er|re)s?$/i, "write the symbol L, mL or uL"],
  [/^(milli|micro|nano)?met(er|re)s?$/i, "write the symbol m, mm, um or nm"],
  [/^Fe$|^[fpnumk]?gFe$/, "that the mass is of iron is said by the field's name: write mg/mL, ug or ng"],
  [/^ID$/, "write % only: of what is said by the field's name"],
  [/^(pp|pkpk|ptp)$|^[mun]?[TVA](pp|ptp)$/i, "amplitudes are peak values: halve a peak-to-peak value"],
  [/^(rms|eff)$|^[mun]?[TVA](rms|eff)$/i, "amplitudes are peak values: multiply an rms value of a sine by 1.41421"],
  [/^(pk|peak)$/i, "amplitudes are peak values already: leave the word out"],
  [/^rpm$/i, "revolutions per minute mix turns and radians: write the frequency, 60 rpm = 1 Hz"],
  [/^dB[A-Za-z]?$/, "decibels are not read: write the ratio itself"],
  [/^[kM]?VA$/, "write kV.A, or kW for a power"],
  [/^[kMG]?(Sa|samples?|sps)$/i, "write S/s, kS/s or MS/s for samples per second"],
  [/^[kMG]?Sps$/i, "write S/s, kS/s or MS/s for samples per second"],
  [/^(inch|inches|in|ft|foot|feet)$/i, "write m, cm or mm"],
  [/^(per|cubic|square)$/i, "write / for per, m2 and m3 for square and cubic metres"],
  [/^[xe]$/i, "write powers of ten as 1e3, before the unit"],
];

/** Advice for a symbol that is not in the table; empty when nothing near it is known. */
export function adviceOnSymbol(symbol: string): string {
  const trap = traps.find(([pattern]) => pattern.test(symbol));
  if (trap !== undefined) return trap[1];
  const folded = symbol.toLowerCase();
  const sameLetters = knownSymbolTexts().filter((text) => text.toLowerCase() === folded);
  if (sameLetters.length > 0) return `did you mean ${sameLetters.join(" or ")}? (case matters)`;
  const prefixed = unreadPrefix(symbol);
  if (prefixed !== undefined) return prefixed;
  const pair = gluedPair(symbol);
  if (pair !== undefined) return `put a dot between two symbols: ${pair.join(".")}`;
  const near = nearSymbols(symbol);
  return near.length === 0 ? "" : `did you mean ${near.join(" or ")}?`;
}

/** `GA`: a decimal prefix before a symbol that does not take it. The dot is named too where both read as symbols. */
function unreadPrefix(symbol: string): string | undefined {
  const [prefix, rest] = [symbol.slice(0, 1), symbol.slice(1)];
  const unit = unitSymbols.find((each) => each.symbol === rest);
  if (unit === undefined || !Object.hasOwn(prefixExponents, prefix)) return undefined;
  const taken = unit.prefixes === "" ? "no prefix" : `${unit.prefixes.split(" ").join(", ")}`;
  const dot = lookUpSymbol(prefix) === undefined ? "" : `, or put a dot between two symbols: ${prefix}.${rest}`;
  return `${rest} takes ${taken} here: write the power of ten, as in 1e${prefixExponents[prefix]} ${rest}${dot}`;
}

/** `Am` as A.m, `mPas` as mPa.s: two symbols written as one word. */
function gluedPair(symbol: string): [string, string] | undefined {
  for (let i = symbol.length - 1; i > 0; i--) {
    const [left, right] = [symbol.slice(0, i), symbol.slice(i)];
    if (lookUpSymbol(left) !== undefined && lookUpSymbol(right) !== undefined) return [left, right];
  }
  return undefined;
}

/** Known symbols that differ in one letter, for words of three letters and more (shorter ones resemble everything). */
function nearSymbols(symbol: string): string[] {
  if (symbol.length < 3) return [];
  return knownSymbolTexts()
    .filter((text) => text.length >= 2 && distance(text, symbol) === 1)
    .slice(0, 4);
}
