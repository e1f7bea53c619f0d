import { readdirSync, readFileSync } from "node:fs";
import { dirname, join, posix, relative, sep } from "node:path";
import { fileURLToPath } from "node:url";
import ts from "typescript";

export const root = dirname(dirname(fileURLToPath(import.meta.url)));

/**
 * The layers, lowest first. A file may import its own layer and those before it; layers on one line of the list
 * do not import each other. `errors` is the file src/errors.ts; `index` is the library's own door, above the rest.
 */
export const layerList: readonly (readonly string[])[] = [
  ["errors"],
  ["units"],
  ["numerics"],
  ["physics"],
  ["imaging"],
  ["measure"],
  ["safety", "comparator"],
  ["handbook"],
  ["documents"],
  ["formats"],
  ["runtime"],
  ["figures"],
  ["report"],
  ["workbench"],
  ["cli", "web", "index"],
];

export interface SourceFile {
  /** Path below src/, with forward slashes. */
  readonly path: string;
  readonly layer: string;
  /** Paths below src/ that it imports (static, dynamic and re-exports). */
  readonly imports: readonly string[];
  /** Package or node: names that it imports. */
  readonly packages: readonly string[];
}

/** Every source file below src/ without tests, with what it imports, read by the compiler's own scanner. */
export function readSources(): SourceFile[] {
  const folder = join(root, "src");
  const files = readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && /\.tsx?$/.test(entry.name) && !/\.test\.tsx?$/.test(entry.name))
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)).split(sep).join("/"));
  return files.map((path) => {
    const text = readFileSync(join(folder, path), "utf8");
    const names = ts.preProcessFile(text, true, true).importedFiles.map(({ fileName }) => fileName);
    const local = names.filter((name) => name.startsWith("."));
    return {
      path,
      layer: layerOf(path),
      imports: local.map((name) => posix.normalize(posix.join(posix.dirname(path), name)).replace(/\.js$/, ".ts")),
      packages: names.filter((name) => !name.startsWith(".")),
    };
  });
}

export function layerOf(path: string): string {
  return path.includes("/") ? path.split("/")[0] : path.replace(/\.ts$/, "");
}

export function rankOf(layer: string): number {
  return layerList.findIndex((names) => names.includes(layer));
}
