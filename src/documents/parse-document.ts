import type { ErrorPlace } from "../errors.js";
import { DocumentError, type DocumentProblem } from "./document-error.js";
import { familyUrn } from "./document-family.js";
import { type DocumentOf, type FamilyName, families, familyNames, isFamilyName, type ModelOf } from "./families.js";
import { foundWords } from "./found-words.js";
import { type DocumentPath, pathText } from "./json/document-path.js";
import { isJsonObject, type JsonObject } from "./json/json-value.js";
import { type PositionedJson, parsePositioned } from "./json/parse-positioned.js";
import { migrate } from "./migrations.js";
import { oneOfNames, quotedList } from "./nearest-name.js";
import type { UnplacedProblem } from "./problems-from-issues.js";
import { parseSchemaUrn } from "./schema-urn.js";

/** A document that was read: as written (after migration) and in SI. */
export interface Parsed<Name extends FamilyName> {
  readonly family: Name;
  readonly document: DocumentOf<Name>;
  readonly model: ModelOf<Name>;
  /** What migrations changed, oldest first; empty for a document of the current version. */
  readonly changes: readonly string[];
  /** File, line and column of a value: for errors found later, such as a path to a file that is not there. */
  readonly placeOf: (path: DocumentPath) => ErrorPlace;
}

/** Any family; `family` tells which. */
export type ParsedDocument = { [Name in FamilyName]: Parsed<Name> }[FamilyName];

export interface ParseDocumentOptions<Name extends FamilyName = FamilyName> {
  /** Used in messages only: nothing is read. */
  readonly file?: string | undefined;
  /** The family wanted; any other is refused. */
  readonly family?: Name | undefined;
}

/**
 * Reads a document: strict JSON, the family and version in its "schema", migrations, schema, rules across fields, SI.
 *
 * @throws FerruleError InvalidDocument; once the JSON itself is sound a DocumentError that lists every problem
 */
export function parseDocument<Name extends FamilyName>(
  text: string,
  options: ParseDocumentOptions<Name> & { readonly family: Name },
): Parsed<Name>;
export function parseDocument(text: string, options?: ParseDocumentOptions): ParsedDocument;
export function parseDocument(text: string, { file, family: wanted }: ParseDocumentOptions = {}): ParsedDocument {
  const json = parsePositioned(text, file === undefined ? {} : { file });
  const source = { json, file };
  const { name, version, document: written } = identify(source, wanted);
  const family = families[name];
  const outcome = migrate(family, written, version);
  if (outcome.kind === "failed")
    throw refusal(source, {
      code: "InvalidDocument",
      path: ["schema"],
      found: outcome.found,
      accepted: outcome.accepted,
    });
  const validation = family.read(outcome.document);
  if (validation.kind === "invalid") throw placed(source, validation.problems);
  const changes = outcome.kind === "migrated" ? outcome.changes : [];
  const placeOf = (path: DocumentPath) => place(source, path);
  // The registry pairs each name with its own types; the compiler cannot follow that through a computed name.
  return {
    family: name,
    document: outcome.document,
    model: validation.value,
    changes,
    placeOf,
  } as unknown as ParsedDocument;
}

interface Source {
  readonly json: PositionedJson;
  readonly file: string | undefined;
}

interface Identity {
  readonly name: FamilyName;
  readonly version: number;
  readonly document: JsonObject;
}

/** Which family and version a document says it is. */
function identify(source: Source, wanted: FamilyName | undefined): Identity {
  const { value } = source.json;
  const example = familyUrn(families[wanted ?? "tracer"]);
  if (!isJsonObject(value))
    throw refusal(source, { path: [], found: foundWords(value), accepted: `an object with "schema": "${example}"` });
  const urn = Object.hasOwn(value, "schema") ? value.schema : undefined;
  const known = (wanted === undefined ? familyNames : [wanted]).map((name) => familyUrn(families[name]));
  if (typeof urn !== "string")
    throw refusal(source, { path: ["schema"], found: foundWords(urn), accepted: `one of ${quotedList(known)}` });
  const parsed = parseSchemaUrn(urn);
  if (parsed === undefined || !isFamilyName(parsed.family))
    throw refusal(source, {
      code: "UnknownName",
      path: ["schema"],
      found: foundWords(urn),
      accepted: oneOfNames(urn, known),
    });
  if (wanted !== undefined && parsed.family !== wanted)
    throw refusal(source, {
      path: ["schema"],
      found: `a ${parsed.family} document`,
      accepted: `a ${wanted} document, "${example}"`,
    });
  return { name: parsed.family, version: parsed.version, document: value };
}

function refusal(
  source: Source,
  problem: { code?: UnplacedProblem["code"]; path: DocumentPath; found: string; accepted: string },
): DocumentError {
  return placed(source, [{ code: "InvalidDocument", part: "value", ...problem }]);
}

/** All problems with their places, in reading order. */
function placed(source: Source, problems: readonly UnplacedProblem[]): DocumentError {
  const withPlace = problems.map(({ code, path, part, found, accepted }): DocumentProblem => {
    return { code, ...place(source, path, part), path: pathText(path), found, accepted };
  });
  withPlace.sort((a, b) => a.line! - b.line! || a.column! - b.column!);
  return new DocumentError(withPlace);
}

function place({ json, file }: Source, path: DocumentPath, part: "value" | "key" = "value"): ErrorPlace {
  return { ...(file === undefined ? {} : { file }), ...json.locate(path, part), path: pathText(path) };
}
