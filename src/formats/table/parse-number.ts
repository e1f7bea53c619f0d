export type DecimalMark = "." | ",";

/** What one cell of a table says. `missing` is a blank, NaN or n/a; `words` is text that is no number. */
export type Cell =
  | { readonly kind: "number"; readonly value: number; readonly mark?: DecimalMark }
  | { readonly kind: "missing" }
  | { readonly kind: "words"; readonly reason: string };

const missingWords = new Set([
  ...["", "nan", "+nan", "-nan", "n/a", "na", "#n/a", "-", "--", "null"],
  ...["nan(ind)", "-nan(ind)", "1.#qnan", "-1.#ind", "1.#ind"], // as some C libraries print NaN
]);
const infinite = /^[+-]?(inf|infinity|\u221e|1\.#inf)$/i;
const plainNumber = /^[+-]?(\d+\.?\d*|\.\d+)([eEdD][+-]?\d+)?$/;
const commaNumber = /^[+-]?(\d+,\d*|,\d+)([eEdD][+-]?\d+)?$/;
const groupedNumber = /^[+-]?\d{1,3}(,\d{3})+\.\d*$|^[+-]?\d{1,3}(,\d{3}){2,}$|^[+-]?\d{1,3}(\.\d{3})+,\d*$/;
/** Blanks, narrow blanks, apostrophes and underscores between groups of three, or points in two places. */
const otherGroups = /^[+-]?\d{1,3}([ \u00a0\u2009\u202f'\u2019_]\d{3})+([.,]\d*)?$|^[+-]?\d{1,3}(\.\d{3}){2,}$/;

/**
 * One cell to a number: `1.2E-05`, Fortran `1.2D-05`, `+5`, `.5`, U+2212 as minus; a decimal comma only where the
 * caller says that the table has them. Thousands separators are refused: `1,234` has two readings.
 *
 * @param options.mark       the decimal mark of the table, or "either" while nothing has shown it
 * @param options.delimiter  what separates cells: goes into the reason
 */
export function parseCell(
  text: string,
  { mark = ".", delimiter }: { readonly mark?: DecimalMark | "either"; readonly delimiter?: string } = {},
): Cell {
  if (mark === "." && plainNumber.test(text)) return finite(text, "."); // most cells: no closer look
  const word = text
    .trim()
    .replace(/^"(.*)"$/, "$1")
    .trim()
    .replace(/^\u2212/, "-");
  if (missingWords.has(word.toLowerCase())) return { kind: "missing" };
  if (groupedNumber.test(word) || otherGroups.test(word)) return refused("a number with thousands separators");
  const written = decimalMarkOf(word);
  if (written === undefined && !plainNumber.test(word)) return refused(whyNoNumber(word));
  if (written !== undefined && mark !== "either" && written !== mark) return refused(whyOtherMark(written, delimiter));
  return finite(word.replace(",", "."), written);
}

const refused = (reason: string): Cell => ({ kind: "words", reason });

/** The mark that a number is written with; `undefined` for one without, and for words. */
function decimalMarkOf(word: string): DecimalMark | undefined {
  if (commaNumber.test(word)) return ",";
  return plainNumber.test(word) && word.includes(".") ? "." : undefined;
}

function whyOtherMark(written: DecimalMark, delimiter: string | undefined): string {
  if (written === ".") return "a decimal point where the table has decimal commas: thousands separators?";
  return delimiter === ";"
    ? "a decimal comma where the table has decimal points: thousands separators?"
    : "a decimal comma, which is read only where `;` separates cells";
}

function whyNoNumber(word: string): string {
  if (infinite.test(word)) return "an infinite value: no measurement";
  if (/^[+-]?0x[\da-f]+$/i.test(word)) return "no number: hexadecimal";
  const parts = word.split(/[\s;,|]+/);
  if (parts.length > 1 && parts.every((part) => plainNumber.test(part)))
    return "several numbers in one cell: another separator than in the first row, or decimal commas?";
  return "no number";
}

function finite(word: string, mark: DecimalMark | undefined): Cell {
  const plain = Number(word);
  const value = Number.isNaN(plain) ? Number(word.replace(/[dD]/, "e")) : plain;
  if (!Number.isFinite(value)) return refused("a number too large to hold");
  if (value === 0 && /[1-9]/.test(word.replace(/[eEdD].*$/, ""))) return refused("a number too small to hold");
  return mark === undefined ? { kind: "number", value } : { kind: "number", value, mark };
}
