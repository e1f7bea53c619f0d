import { describe, expect, it } from "vitest";
import { isKnownError } from "../errors.js";
import { isSameDimension } from "./dimension.js";
import { parseUnit } from "./grammar.js";
import { expandSymbols, lookUpSymbol } from "./symbol-lookup.js";
import { prefixExponents, unitSymbols } from "./symbols.js";

describe("table of unit symbols", () => {
  const spellings = expandSymbols();

  it("gives every text one reading only", () => {
    const texts = spellings.map(({ text }) => text);
    const twice = texts.filter((text, i) => texts.indexOf(text) !== i);
    expect(twice).toEqual([]);
    expect(texts.length).toBeGreaterThan(150);
  });

  it("would notice a second reading: an inch beside min, or prefixes for the day beside cd", () => {
    const texts = new Set(spellings.map(({ text }) => text));
    expect(texts.has("min")).toBe(true); // so a row `in` with prefix m would collide
    expect(texts.has("cd")).toBe(true); // so a prefix c on `d` would
    expect(unitSymbols.some(({ symbol }) => symbol === "in")).toBe(false);
    expect(unitSymbols.find(({ symbol }) => symbol === "d")?.prefixes).toBe("");
  });

  it("uses known prefixes only, each once per symbol", () => {
    for (const { prefixes } of unitSymbols) {
      const list = prefixes === "" ? [] : prefixes.split(" ");
      expect(list.every((prefix) => prefix in prefixExponents)).toBe(true);
      expect(new Set(list).size).toBe(list.length);
    }
  });

  it.each([
    ["min", "min", 0],
    ["cd", "cd", 0],
    ["d", "d", 0],
    ["h", "h", 0],
    ["Pa", "Pa", 0],
    ["G", "G", 0],
    ["T", "T", 0],
    ["g", "g", 0],
    ["Gy", "Gy", 0],
    ["m", "m", 0],
    ["mT", "T", -3],
    ["mm", "m", -3],
    ["mmol", "mol", -3],
    ["cps", "cps", 0],
    ["kcps", "cps", 3],
    ["cP", "P", -2],
    ["hPa", "Pa", 2],
    ["MS/s", "S/s", 6],
    ["mS", "S", -3],
    ["ms", "s", -3],
    ["Ci", "Ci", 0],
    ["Cel", "Cel", 0],
    ["dL", "L", -1],
    ["kohm", "Ohm", 3],
  ])("reads %s as %s with 10^%d", (text, symbol, exponent) => {
    expect(lookUpSymbol(text)?.unit.symbol).toBe(symbol);
    expect(lookUpSymbol(text)?.prefixExponent).toBe(exponent);
  });

  it("does not know M, U, u, Ms, cc, mcg, rpm, Tm", () => {
    for (const text of ["M", "mM", "U", "u", "Ms", "cc", "mcg", "rpm", "Tm", "dT", "fL/"]) {
      expect(lookUpSymbol(text), text).toBeUndefined();
    }
  });

  it("is read by the grammar spelling by spelling", () => {
    for (const { text, prefixExponent, unit } of spellings) {
      const read = parseUnit(text);
      expect(read.symbols, text).toEqual([unit.symbol]);
      expect(read.exponent10, text).toBe(unit.exponent10 + prefixExponent);
      expect(isSameDimension(read.dimension, unit.dimension), text).toBe(true);
    }
  });

  it("refuses every other one- and two-letter word", () => {
    const letters = [..."abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"];
    const words = [...letters, ...letters.flatMap((a) => letters.map((b) => a + b))];
    const readable = words.filter((word) => {
      try {
        parseUnit(word);
        return true;
      } catch (error) {
        if (!isKnownError(error, "UnitMismatch")) throw error;
        return false;
      }
    });
    const known = new Set(spellings.map(({ text }) => text));
    expect(readable.filter((word) => !known.has(word))).toEqual([]);
  });
});
