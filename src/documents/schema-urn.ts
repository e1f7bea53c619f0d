export interface SchemaName {
  readonly family: string;
  readonly version: number;
}

/** `urn:ferrule:tracer:1`: which family and version of document this is; also the `$id` of its JSON Schema. */
export function schemaUrn(family: string, version: number): string {
  return `urn:ferrule:${family}:${version}`;
}

/** The family and version in a URN of ours, or `undefined`. Versions count from 1. */
export function parseSchemaUrn(urn: string): SchemaName | undefined {
  const match = /^urn:ferrule:([a-z][a-z-]*):([1-9][0-9]{0,5})$/.exec(urn);
  return match === null ? undefined : { family: match[1], version: Number(match[2]) };
}
