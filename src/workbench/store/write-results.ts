import { existsSync } from "node:fs";
import { join } from "node:path";
import { FerruleError } from "../../errors.js";
import { writeFileAtomically } from "./atomic-write.js";

/**
 * Writes a set of result files into a folder, each whole or not at all, and returns their paths.
 * Existing files are kept, and the whole set refused, unless `replace` is set.
 */
export function writeResults(
  folder: string,
  files: Readonly<Record<string, string | Uint8Array>>,
  { replace = false }: { replace?: boolean } = {},
): string[] {
  const paths = Object.keys(files).map((name) => join(folder, name));
  const taken = paths.find((path) => existsSync(path));
  if (taken !== undefined && !replace)
    throw new FerruleError("Conflict", {
      file: taken,
      found: "a file of this name",
      accepted: "another --out folder, or --replace to overwrite the results in it",
    });
  for (const [name, data] of Object.entries(files)) writeFileAtomically(join(folder, name), data);
  return paths;
}
