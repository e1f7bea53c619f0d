/** The way from the root of a document to a value: field names and list indices (from 0). */
export type DocumentPath = readonly (string | number)[];

/** `receive[0].noise`; a name that is not a plain word is quoted: `["iron mass"]`. */
export function pathText(path: DocumentPath): string {
  return path.map((segment, depth) => segmentText(segment, depth === 0)).join("");
}

function segmentText(segment: string | number, isFirst: boolean): string {
  if (typeof segment === "number") return `[${segment}]`;
  if (!/^[A-Za-z_$][\w$-]*$/.test(segment)) return `[${JSON.stringify(segment)}]`;
  return isFirst ? segment : `.${segment}`;
}

/** The value at a path, or `undefined` where the path leads nowhere. Looks at own fields only. */
export function valueAt(root: unknown, path: DocumentPath): unknown {
  let value = root;
  for (const segment of path) {
    if (typeof value !== "object" || value === null || !Object.hasOwn(value, segment)) return undefined;
    value = (value as Record<string | number, unknown>)[segment];
  }
  return value;
}
