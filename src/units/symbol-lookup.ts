import type { UnitSymbol } from "./symbols.js";
import { prefixExponents, unitSymbols } from "./symbols.js";

/** One text that the grammar reads as one factor: a symbol with at most one prefix. */
export interface KnownSymbol {
  readonly text: string;
  readonly prefixExponent: number;
  readonly unit: UnitSymbol;
}

function spellings(unit: UnitSymbol): KnownSymbol[] {
  const prefixes = unit.prefixes === "" ? [] : unit.prefixes.split(" ");
  return [unit.symbol, ...(unit.aliases ?? [])].flatMap((symbol) =>
    ["", ...prefixes].map((prefix) => ({
      text: `${prefix}${symbol}`,
      prefixExponent: prefix === "" ? 0 : prefixExponents[prefix],
      unit,
    })),
  );
}

/** Every spelling, in table order; the tests show that no text occurs twice. */
export function expandSymbols(): KnownSymbol[] {
  return unitSymbols.flatMap(spellings);
}

const knownSymbols: ReadonlyMap<string, KnownSymbol> = new Map(expandSymbols().map((known) => [known.text, known]));

export function lookUpSymbol(text: string): KnownSymbol | undefined {
  return knownSymbols.get(text);
}

export function knownSymbolTexts(): string[] {
  return [...knownSymbols.keys()];
}
