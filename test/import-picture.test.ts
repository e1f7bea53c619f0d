import { describe, expect, it } from "vitest";
import { layerOf, rankOf, readSources, type SourceFile } from "./layers.js";

const sources = readSources();
const byPath = new Map(sources.map((source) => [source.path, source]));

/** Every import of one of our files by another, as "from -> to" when `wrong` says so. */
function offenders(wrong: (from: SourceFile, to: SourceFile) => boolean): string[] {
  return sources.flatMap((from) =>
    from.imports.flatMap((path) => {
      const to = byPath.get(path);
      return to !== undefined && wrong(from, to) ? [`${from.path} -> ${to.path}`] : [];
    }),
  );
}

describe("the import picture", () => {
  it("sees the files (a scanner that finds nothing would pass everything)", () => {
    expect(sources.length).toBeGreaterThan(30);
    expect(sources.flatMap(({ imports }) => imports).length).toBeGreaterThan(50);
  });

  it("every import names a file that exists", () => {
    const broken = sources.flatMap(({ path, imports }) =>
      imports.filter((name) => !byPath.has(name)).map((name) => `${path} -> ${name}`),
    );
    expect(broken).toEqual([]);
  });

  it("every file lies in a layer of the list", () => {
    expect(sources.filter(({ layer }) => rankOf(layer) < 0).map(({ path }) => path)).toEqual([]);
  });

  it("imports point only down the layers", () => {
    const upward = offenders((from, to) => from.layer !== to.layer && rankOf(to.layer) >= rankOf(from.layer));
    expect(upward).toEqual([]);
  });

  it("other layers are entered by their front door only", () => {
    const byWindow = offenders(
      (from, to) => from.layer !== to.layer && to.layer !== "errors" && to.path !== `${to.layer}/index.ts`,
    );
    expect(byWindow).toEqual([]);
  });

  it("no file imports its own layer's door", () => {
    expect(offenders((from, to) => from.layer === to.layer && to.path === `${from.layer}/index.ts`)).toEqual([]);
  });

  it("no files import each other in a ring", () => {
    expect(findRing()).toEqual([]);
  });

  it("physics, numerics, imaging and documents never see files, processes or the network", () => {
    const pure = [
      "units",
      "numerics",
      "physics",
      "imaging",
      "measure",
      "safety",
      "comparator",
      "handbook",
      "documents",
    ];
    const impure = sources
      .filter(({ layer }) => pure.includes(layer))
      .flatMap(({ path, packages }) =>
        packages.filter((name) => name.startsWith("node:")).map((name) => `${path} ${name}`),
      );
    expect(impure).toEqual([]);
  });

  it("there is no drawer called utils", () => {
    const drawers = sources.filter(({ path }) => /(^|\/)(utils?|helpers?|common|misc)(\/|\.ts$)/.test(path));
    expect(drawers.map(({ path }) => path)).toEqual([]);
  });

  it("knows the layer of a path", () => {
    expect([layerOf("errors.ts"), layerOf("cli/verbs/fit.ts")]).toEqual(["errors", "cli"]);
  });
});

function findRing(): string[] {
  const done = new Set<string>();
  const trail: string[] = [];
  const visit = (path: string): string[] | undefined => {
    const start = trail.indexOf(path);
    if (start >= 0) return [...trail.slice(start), path];
    if (done.has(path)) return undefined;
    trail.push(path);
    for (const next of byPath.get(path)?.imports ?? []) {
      const ring = byPath.has(next) ? visit(next) : undefined;
      if (ring) return ring;
    }
    trail.pop();
    done.add(path);
    return undefined;
  };
  for (const { path } of sources) {
    const ring = visit(path);
    if (ring) return ring;
  }
  return [];
}
