import type { z } from "zod";
import type { ErrorCode } from "../../errors.js";
import type { DocumentPath } from "../json/document-path.js";

/** What a check of ours says about a value; carried through zod as the issue's `params`. */
export interface Refusal {
  readonly found: string;
  readonly accepted: string;
  readonly code?: ErrorCode;
}

/** Where zod collects what is wrong; both transforms and cross-field checks have one. */
type IssueSink = Pick<z.core.$RefinementCtx, "issues">;

/** Adds one problem at `path`, relative to the value being checked. */
export function refuse(sink: IssueSink, path: DocumentPath, { found, accepted, code }: Refusal): void {
  sink.issues.push({
    code: "custom",
    message: `found ${found}; accepted: ${accepted}`,
    input: undefined,
    path: [...path],
    params: { found, accepted, ...(code === undefined ? {} : { code }) },
  });
}

/** The refusal carried by an issue of ours, or `undefined` for an issue of the schema library. */
export function refusalOf(params: unknown): Refusal | undefined {
  if (typeof params !== "object" || params === null || !("found" in params) || !("accepted" in params))
    return undefined;
  return params as Refusal;
}

/** Names by which other parts of a study refer to an item must be unique: the second one is refused. */
export function refuseDuplicates<Item>(
  sink: IssueSink,
  items: readonly Item[],
  { list, field, label }: { readonly list: string; readonly field: string; readonly label: (item: Item) => string },
): void {
  const firstIndex = new Map<string, number>();
  items.forEach((item, index) => {
    const first = firstIndex.get(label(item));
    if (first === undefined) firstIndex.set(label(item), index);
    else
      refuse(sink, [list, index, field], {
        found: `"${label(item)}" a second time (first in ${list}[${first}])`,
        accepted: `a ${field} of its own for each entry of ${list}`,
      });
  });
}
