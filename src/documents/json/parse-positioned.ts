import { printParseErrorCode, visit } from "jsonc-parser";
import { FerruleError } from "../../errors.js";
import { type DocumentPath, pathText } from "./document-path.js";
import type { JsonValue } from "./json-value.js";
import { locateIn, type Position, type PositionNode } from "./position-tree.js";
import { excerpt, type SyntaxWords, syntaxWords } from "./syntax-words.js";

export interface PositionedJson {
  readonly value: JsonValue;
  /** Where the value (or the name) at a path is written; the nearest written ancestor where it is not. */
  readonly locate: (path: DocumentPath, part?: "value" | "key") => Position;
}

export interface ParsePositionedOptions {
  readonly file?: string;
  /** Documents are small: arrays of data live in files of their own. */
  readonly maximumLength_chars?: number;
  /** Far beyond any document of ours, far below what the call stack bears. */
  readonly maximumDepth?: number;
}

/**
 * Strict JSON (RFC 8259) that remembers where each value and each name was written.
 * Refused: comments, trailing commas, duplicate names (RFC 8259 leaves their meaning open), numbers beyond the range
 * of a double, deep nesting, overlong text. A leading byte order mark is skipped.
 *
 * @throws FerruleError InvalidDocument at the first fault, with file, line, column and path
 */
export function parsePositioned(
  text: string,
  { file, maximumLength_chars = 4_000_000, maximumDepth = 200 }: ParsePositionedOptions = {},
): PositionedJson {
  if (text.length > maximumLength_chars)
    throw new FerruleError("InvalidDocument", {
      ...(file === undefined ? {} : { file }),
      found: `a text of ${text.length} characters`,
      accepted: `at most ${maximumLength_chars} characters; keep data arrays in files of their own`,
    });
  const builder = new TreeBuilder(text.charCodeAt(0) === 0xfeff ? text.slice(1) : text, { file, maximumDepth });
  const { value, node } = builder.build();
  return { value, locate: (path, part) => locateIn(node, path, part) };
}

/** An object or list whose end has not been read yet. */
interface OpenContainer {
  readonly value: Record<string, JsonValue> | JsonValue[];
  readonly node: PositionNode;
  /** The name whose value comes next, in an object. */
  key: string | undefined;
  keyPosition: Position | undefined;
}

/**
 * Collects the parser's events. A class because it owns the half-built tree; it lives for one text.
 * Any fault leaves by an exception, so the parser's own error recovery never runs.
 */
class TreeBuilder {
  readonly #open: OpenContainer[] = [];
  #root: { value: JsonValue; node: PositionNode } | undefined;
  #afterComma = false;

  constructor(
    private readonly text: string,
    private readonly options: { readonly file: string | undefined; readonly maximumDepth: number },
  ) {}

  build(): { value: JsonValue; node: PositionNode } {
    visit(
      this.text,
      {
        onObjectBegin: (_offset, _length, line, column) => this.#begin({}, position(line, column)),
        onArrayBegin: (_offset, _length, line, column) => this.#begin([], position(line, column)),
        onObjectEnd: () => this.#end(),
        onArrayEnd: () => this.#end(),
        onObjectProperty: (name, _offset, _length, line, column) => this.#name(name, position(line, column)),
        onLiteralValue: (value, offset, length, line, column) =>
          this.#literal(value, this.text.slice(offset, offset + length), position(line, column)),
        onSeparator: (separator) => {
          this.#afterComma = separator === ",";
        },
        onError: (code, offset, length, line, column) => {
          const token = this.text.slice(offset, offset + length);
          const fault = { code: printParseErrorCode(code), token, afterComma: this.#afterComma };
          this.#refuse(syntaxWords(fault), position(line, column));
        },
      },
      { disallowComments: true, allowTrailingComma: false },
    );
    return this.#root!; // an empty text has left by onError
  }

  #begin(value: Record<string, JsonValue> | JsonValue[], at: Position): void {
    const { maximumDepth } = this.options;
    if (this.#open.length >= maximumDepth)
      this.#refuse(
        { found: "deeper nesting", accepted: `at most ${maximumDepth} objects or lists inside each other` },
        at,
      );
    const node = this.#place(value as JsonValue, at);
    this.#open.push({ value, node, key: undefined, keyPosition: undefined });
  }

  #end(): void {
    this.#open.pop();
    this.#finishValue();
  }

  #name(name: string, at: Position): void {
    const parent = this.#open.at(-1)!;
    this.#afterComma = false;
    parent.key = name;
    parent.keyPosition = at;
    if (parent.node.children.has(name))
      this.#refuse({ found: `"${excerpt(name)}" a second time`, accepted: "each field once" }, at);
  }

  #literal(value: JsonValue, written: string, at: Position): void {
    if (typeof value === "number" && !Number.isFinite(value))
      this.#refuse({ found: excerpt(written), accepted: "a number below 1.8e308 in magnitude, e.g. 1e3" }, at);
    this.#place(value, at);
    this.#finishValue();
  }

  /** Between two fields a fault belongs to the object, not to the field before. */
  #finishValue(): void {
    const parent = this.#open.at(-1);
    if (parent !== undefined) parent.key = undefined;
    this.#afterComma = false;
  }

  /** Hangs a value into its parent; defined, not assigned, so that "__proto__" is a name like any other. */
  #place(value: JsonValue, at: Position): PositionNode {
    this.#afterComma = false;
    const parent = this.#open.at(-1);
    const node: PositionNode = {
      value: at,
      children: new Map(),
      ...(parent?.keyPosition && { key: parent.keyPosition }),
    };
    if (parent === undefined) this.#root = { value, node };
    else {
      const segment = segmentOf(parent) ?? "";
      Object.defineProperty(parent.value, segment, { value, writable: true, enumerable: true, configurable: true });
      parent.node.children.set(segment, node);
    }
    return node;
  }

  #refuse({ found, accepted }: SyntaxWords, at: Position): never {
    const path = pathText(this.#open.map(segmentOf).filter((segment) => segment !== undefined));
    const place = { ...(this.options.file === undefined ? {} : { file: this.options.file }), ...at, path };
    throw new FerruleError("InvalidDocument", { ...place, found, accepted });
  }
}

/** The step from a container to what is read next; none between two fields of an object. */
function segmentOf({ value, key }: OpenContainer): string | number | undefined {
  return Array.isArray(value) ? value.length : key;
}

/** The parser counts from 0, people from 1. */
function position(line: number, column: number): Position {
  return { line: line + 1, column: column + 1 };
}
