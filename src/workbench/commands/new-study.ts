import { randomBytes } from "node:crypto";
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, statSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { parseDocument } from "../../documents/index.js";
import { FerruleError } from "../../errors.js";
import { didYouMean } from "../../handbook/index.js";

const shippedStudies = fileURLToPath(new URL("../../../shipped/studies/", import.meta.url));

export interface ShippedStudy {
  readonly name: string;
  readonly title: string;
  readonly invented: boolean;
  readonly description: string;
}

/** The studies that come with the package. */
export function listShippedStudies(): ShippedStudy[] {
  return readdirSync(shippedStudies)
    .filter((name) => existsSync(join(shippedStudies, name, "study.json")))
    .sort()
    .map((name) => {
      const file = join(shippedStudies, name, "study.json");
      const { model } = parseDocument(readFileSync(file, "utf8"), { file, family: "study" });
      return { name, title: model.name, invented: model.invented, description: model.description ?? "" };
    });
}

/** Copies a shipped study into a new folder, whole or not at all, and returns the folder. */
export function newStudy(folder: string, from: string): string {
  const known = listShippedStudies().map(({ name }) => name);
  if (!known.includes(from))
    throw new FerruleError("UnknownName", {
      path: "--from",
      found: `"${from}"`,
      accepted: `${didYouMean(from, known)}Shipped: ${known.join(", ")}`,
    });
  if (existsSync(folder) && (!statSync(folder).isDirectory() || readdirSync(folder).length > 0))
    throw new FerruleError("Conflict", {
      file: folder,
      found: "a file or a folder with something in it",
      accepted: "a new or an empty folder",
    });
  const target = resolve(folder);
  mkdirSync(dirname(target), { recursive: true });
  const beside = join(dirname(target), `.new-study-${randomBytes(6).toString("hex")}.part`);
  try {
    cpSync(join(shippedStudies, from), beside, { recursive: true });
    rmSync(target, { recursive: true, force: true });
    renameSync(beside, target);
  } catch (error) {
    rmSync(beside, { recursive: true, force: true });
    throw error;
  }
  return folder;
}
