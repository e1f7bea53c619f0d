/** What a syntax error says: what stood there, and what strict JSON (RFC 8259) wants instead. */
export interface SyntaxWords {
  readonly found: string;
  readonly accepted: string;
}

export interface SyntaxFault {
  /** Name of the parser's error code, e.g. "CommaExpected". */
  readonly code: string;
  /** The offending token; empty at the end of the text. */
  readonly token: string;
  /** The last separator read just before the token, if any. */
  readonly afterComma: boolean;
}

const acceptedByCode: Readonly<Record<string, string>> = {
  InvalidNumberFormat: "a number such as 0.5, 12 or 1e-3",
  UnexpectedEndOfNumber: "a number such as 0.5, 12 or 1e-3 (digits on both sides of the point)",
  PropertyNameExpected: 'a field name in double quotes, e.g. "name"',
  ColonExpected: 'a colon between a field\'s name and its value, e.g. "name": "A"',
  CommaExpected: "a comma before the next field or item, or the closing bracket",
  CloseBraceExpected: 'the closing "}" of this object',
  CloseBracketExpected: 'the closing "]" of this list',
  EndOfFileExpected: "nothing after the document's last bracket",
  InvalidCommentToken: 'JSON without comments; put remarks in a field that is meant for them, e.g. "note"',
  UnexpectedEndOfComment: 'JSON without comments; put remarks in a field that is meant for them, e.g. "note"',
  UnexpectedEndOfString: 'text closed by a double quote on the same line (a line break is written "\\n")',
  InvalidUnicode: '"\\u" followed by four hexadecimal digits, e.g. "\\u00b5"',
  InvalidEscapeCharacter:
    'one of \\" \\\\ \\/ \\b \\f \\n \\r \\t or \\u with four digits (a plain backslash is "\\\\")',
  InvalidCharacter: 'no control characters inside text (a tab is written "\\t")',
};

const anyValue = 'an object, a list, text in double quotes, a number, true, false or null, e.g. "25 nm"';

export function syntaxWords({ code, token, afterComma }: SyntaxFault): SyntaxWords {
  if (afterComma && (token === "}" || token === "]"))
    return { found: `a comma before "${token}"`, accepted: "no comma after the last field or item" };
  if (token.startsWith("'")) return { found: excerpt(token), accepted: 'double quotes around text, e.g. "name"' };
  return { found: token === "" ? "the end of the text" : excerpt(token), accepted: acceptedByCode[code] ?? anyValue };
}

/** The token as it stands, shortened: a message is no place for a page of text. */
export function excerpt(token: string, longest = 60): string {
  const start = token.split(/[\r\n]/, 1)[0] ?? "";
  return start.length > longest ? `${start.slice(0, longest)}...` : start;
}
