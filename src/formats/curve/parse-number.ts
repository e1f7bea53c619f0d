/** What one cell of a table says. `missing` is a blank, NaN or n/a; `words` is text that is no number. */
export type Cell =
  | { readonly kind: "number"; readonly value: number }
  | { readonly kind: "missing" }
  | { readonly kind: "words"; readonly reason: string };

const missingWords = new Set(["", "nan", "n/a", "na", "-", "--", "null"]);
const plainNumber = /^[+-]?(\d+\.?\d*|\.\d+)([eEdD][+-]?\d+)?$/;
const commaNumber = /^[+-]?(\d+,\d*|,\d+)([eEdD][+-]?\d+)?$/;
const groupedNumber = /^[+-]?\d{1,3}(,\d{3})+\.\d*$|^[+-]?\d{1,3}(,\d{3}){2,}$|^[+-]?\d{1,3}(\.\d{3})+,\d*$/;

/**
 * One cell to a number: `1.2E-05`, Fortran `1.2D-05`, `+5`, `.5`, U+2212 as minus; a decimal comma only where the
 * caller says that the table has them. Thousands separators are refused: `1,234` has two readings.
 */
export function parseCell(text: string, { decimalComma = false }: { readonly decimalComma?: boolean } = {}): Cell {
  const word = text
    .trim()
    .replace(/^"(.*)"$/, "$1")
    .trim()
    .replace(/^\u2212/, "-");
  if (missingWords.has(word.toLowerCase())) return { kind: "missing" };
  if (groupedNumber.test(word)) return { kind: "words", reason: "a number with thousands separators" };
  if (commaNumber.test(word)) {
    if (!decimalComma)
      return { kind: "words", reason: "a decimal comma, which is read only where `;` separates cells" };
    return finite(word.replace(",", "."));
  }
  if (!plainNumber.test(word)) return { kind: "words", reason: "no number" };
  return finite(word);
}

function finite(word: string): Cell {
  const value = Number(word.replace(/[dD]/, "e"));
  return Number.isFinite(value) ? { kind: "number", value } : { kind: "words", reason: "a number too large to hold" };
}
