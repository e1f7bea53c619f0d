import type { DocumentPath } from "./document-path.js";

/** Line and column count from 1; a column is one UTF-16 unit, as editors count. */
export interface Position {
  readonly line: number;
  readonly column: number;
}

/** Where a value starts in the text, where its name does, and the same for what it holds. */
export interface PositionNode {
  readonly value: Position;
  readonly key?: Position;
  readonly children: Map<string | number, PositionNode>;
}

/**
 * Position of the value (or of its name) at `path`. A path that leads on past what was written - a missing field, a
 * field made by a migration - is answered with its nearest written ancestor, which is where the reader has to act.
 */
export function locateIn(root: PositionNode, path: DocumentPath, part: "value" | "key" = "value"): Position {
  let node = root;
  for (const segment of path) {
    const child = node.children.get(segment);
    if (child === undefined) return node.value;
    node = child;
  }
  return part === "key" && node.key !== undefined ? node.key : node.value;
}
