import { z } from "zod";
import { refuse } from "./refuse.js";

/**
 * A file of the same study, relative to the study document. It may not lead out of the study's folder: a study is a
 * folder that can be copied and read as a whole. Forward slashes on every system.
 */
export function relativePath(description: string, example: string) {
  return pathField(`${description}; relative to this document, inside its folder`, example, (written) =>
    written.split("/").includes("..") ? "it leads out of the study's folder" : undefined,
  );
}

/** A file that may also lie in a folder above, relative to the document that names it. */
export function pathFromHere(description: string, example: string) {
  return pathField(`${description}; relative to this document`, example);
}

function pathField(
  description: string,
  example: string,
  ownFault: (written: string) => string | undefined = () => undefined,
) {
  return z
    .string()
    .meta({ description, examples: [example] })
    .superRefine((written, sink) => {
      const fault = pathFault(written) ?? ownFault(written);
      if (fault === undefined) return;
      refuse(sink, [], {
        found: `${JSON.stringify(written)} (${fault})`,
        accepted: `a relative path, e.g. "${example}"`,
      });
    });
}

function pathFault(written: string): string | undefined {
  if (written.trim() === "") return "empty";
  if (/[\\\0]/.test(written)) return 'a character that paths of a study do not have; the separator is "/"';
  if (/^(\/|[A-Za-z][A-Za-z0-9+.-]*:)/.test(written)) return "an absolute path or an address";
  const parts = written.split("/");
  return parts.some((part) => part === "" || part === ".") ? "an empty or dot step" : undefined;
}
