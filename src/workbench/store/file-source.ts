import { existsSync } from "node:fs";
import { join } from "node:path";
import { FerruleError } from "../../errors.js";
import { readInput } from "./read-input.js";

/** Where named files come from: an artifact, or a folder. */
export interface FileSource {
  /** @throws FerruleError when there is no such file, or it is not what it was */
  read(name: string): Uint8Array;
  /** For messages. */
  path(name: string): string;
}

/** The files of a folder that the user named. */
export function folderSource(folder: string): FileSource {
  const path = (name: string) => join(folder, name);
  return {
    path,
    read: (name) => {
      if (!existsSync(path(name)))
        throw new FerruleError("InvalidFile", {
          file: path(name),
          found: "no such file",
          accepted: "an array and its sidecar side by side, e.g. iron.npy and iron.json",
        });
      return readInput(path(name), { largest_bytes: 4 * 2 ** 30 });
    },
  };
}
