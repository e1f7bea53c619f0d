import { spawn } from "node:child_process";
import { appendFileSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { isKnownError } from "../../errors.js";
import { listArtifacts, removeAbandonedParts } from "./artifact-list.js";
import { type ArtifactSpec, artifactKey, nodeName } from "./artifact-spec.js";
import { type ArtifactFiles, openArtifactStore } from "./artifact-store.js";
import { contentHash } from "./content-hash.js";

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "ferrule-store-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const spec: ArtifactSpec = {
  node: "scan-vials",
  method: "line-raster",
  methodVersion: 1,
  kernel: "reference",
  inputs: { phantom: contentHash("phantom A"), tracer: contentHash("tracer") },
  options: { seed: 1, step_m: 1e-3 },
};
const files: ArtifactFiles = { "scan.npy": Uint8Array.of(1, 2, 3), "scan.json": '{"unit":"V"}' };

/** A computation that counts how often it ran. */
function counted(result: ArtifactFiles = files) {
  const counter = {
    runs: 0,
    compute: async () => {
      counter.runs++;
      return result;
    },
  };
  return counter;
}

/** Every file and folder below the store, hidden ones too. */
const everything = () => readdirSync(folder, { recursive: true }).map(String).sort();
const placeOf = (key: string) => join(folder, "derived", "scan-vials", key.slice(0, 16));

describe("resolve", () => {
  it("computes once, then reads from disk, in another process' store too", async () => {
    const counter = counted();
    const first = await openArtifactStore(folder).resolve(spec, counter.compute);
    const second = await openArtifactStore(folder).resolve(spec, counter.compute);
    expect(counter.runs).toBe(1);
    expect([first.fromCache, second.fromCache]).toEqual([false, true]);
    expect(second.digest).toBe(first.digest);
    expect(second.names).toEqual(["scan.json", "scan.npy"]);
    expect([...second.read("scan.npy")]).toEqual([1, 2, 3]);
    expect(second.readText("scan.json")).toBe('{"unit":"V"}');
    expect(readFileSync(second.path("scan.json"), "utf8")).toBe('{"unit":"V"}');
  });

  it("two phantoms never give one cached answer", async () => {
    const store = openArtifactStore(folder);
    const other = { ...spec, inputs: { ...spec.inputs, phantom: contentHash("phantom B") } };
    const a = await store.resolve(spec, () => ({ "answer.txt": "A" }));
    const b = await store.resolve(other, () => ({ "answer.txt": "B" }));
    expect(b.key).not.toBe(a.key);
    expect([a.readText("answer.txt"), b.readText("answer.txt")]).toEqual(["A", "B"]);
  });

  it.each<[string, Partial<ArtifactSpec>]>([
    ["node", { node: "scan-empty" }],
    ["method", { method: "lissajous" }],
    ["methodVersion", { methodVersion: 2 }],
    ["kernel", { kernel: "wasm" }],
    ["inputs: swapped names", { inputs: { phantom: spec.inputs.tracer, tracer: spec.inputs.phantom } }],
    ["options", { options: { seed: 2, step_m: 1e-3 } }],
    ["options in the last bit", { options: { seed: 1, step_m: 1e-3 + 2 ** -62 } }],
  ])("another %s is another key", (_part, change) => {
    expect(artifactKey({ ...spec, ...change })).not.toBe(artifactKey(spec));
  });

  it("the order of fields and the program's version are not part of the key", async () => {
    const counter = counted();
    const turned = { ...spec, options: { step_m: 1e-3, seed: 1 } };
    await openArtifactStore(folder, { programVersion: "0.1.0" }).resolve(spec, counter.compute);
    const again = await openArtifactStore(folder, { programVersion: "0.2.0" }).resolve(turned, counter.compute);
    expect([counter.runs, again.fromCache]).toEqual([1, true]);
  });

  it("the same content has the same digest, whatever made it and in whatever order", async () => {
    const store = openArtifactStore(folder);
    const reversed = Object.fromEntries(Object.entries(files).reverse());
    const a = await store.resolve(spec, () => files);
    const b = await store.resolve({ ...spec, kernel: "wasm" }, () => reversed);
    const renamed = await store.resolve({ ...spec, kernel: "gpu" }, () => ({ ...files, "more.txt": "" }));
    expect(b.digest).toBe(a.digest);
    expect(renamed.digest).not.toBe(a.digest);
  });

  it("the digest is sha256 over sorted names and hashes, as another program would compute it", async () => {
    // python3: hashlib.sha256(json.dumps([[n, hashlib.sha256(b).hexdigest()] for n, b in sorted(files)],
    //   separators=(",", ":")).encode()).hexdigest() with the two files above
    const { digest } = await openArtifactStore(folder).resolve(spec, () => files);
    expect(digest).toBe("35c88bdb713c94d7b560a81cb570cb07e4687726f36a5721f219d9161c54fc03");
  });

  it("only the log knows the clock and the version", async () => {
    await openArtifactStore(folder, { programVersion: "9.8.7" }).resolve(spec, () => files);
    await openArtifactStore(folder, { programVersion: "9.8.7" }).resolve(spec, () => files);
    const lines = readFileSync(join(folder, "derived", "log.jsonl"), "utf8")
      .trim()
      .split("\n");
    const [first, second] = lines.map((line) => JSON.parse(line));
    expect(lines).toHaveLength(2);
    expect(first).toMatchObject({ node: "scan-vials", key: artifactKey(spec), fromCache: false, version: "9.8.7" });
    expect(second).toMatchObject({ fromCache: true, digest: first.digest });
    expect(Date.parse(first.time)).toBeGreaterThan(0);
    const manifest = readFileSync(join(placeOf(first.key), "manifest.json"), "utf8");
    expect(manifest).not.toMatch(/9\.8\.7|time|T\d\d:\d\d/);
  });
});

describe("a computation that does not end well", () => {
  it("leaves nothing when it throws, and the next one is whole", async () => {
    const store = openArtifactStore(folder);
    const failing = store.resolve(spec, async () => {
      await wait(5);
      throw new Error("out of memory");
    });
    await expect(failing).rejects.toThrow("out of memory");
    expect(everything()).toEqual([]);
    expect((await store.resolve(spec, () => files)).fromCache).toBe(false);
  });

  it("leaves nothing when it is stopped, before or during the work", async () => {
    const stop = new AbortController();
    const during = openArtifactStore(folder).resolve(
      spec,
      () => {
        stop.abort();
        return files;
      },
      { signal: stop.signal },
    );
    await expect(during).rejects.toSatisfy((error) => isKnownError(error, "Cancelled"));
    const counter = counted();
    const before = openArtifactStore(folder).resolve(spec, counter.compute, { signal: stop.signal });
    await expect(before).rejects.toSatisfy((error) => isKnownError(error, "Cancelled"));
    expect([counter.runs, everything()]).toEqual([0, []]);
  });

  it("leaves no half artifact when a name or a file in it cannot be written", async () => {
    const store = openArtifactStore(folder);
    for (const name of ["../escape.txt", "a/b.txt", ".hidden", "", "manifest.json"])
      await expect(store.resolve(spec, () => ({ "good.txt": "1", [name]: "2" }))).rejects.toSatisfy((error) =>
        isKnownError(error, "InvalidValue"),
      );
    expect(everything()).toEqual([]);
  });

  it("killed while it writes, it leaves no artifact that anyone trusts, and its rest can be swept", async () => {
    const store = new URL("artifact-store.ts", import.meta.url).href;
    const script = `const { openArtifactStore } = await import(${JSON.stringify(store)});
      const block = new Uint8Array(4 << 20);
      const files = Object.fromEntries(Array.from({ length: 400 }, (_, i) => ["part-" + i, block]));
      await openArtifactStore(${JSON.stringify(folder)}).resolve(${JSON.stringify(spec)}, () => files);`;
    const child = spawn(process.execPath, ["--import", "tsx", "--input-type=module", "-e", script], {
      stdio: "ignore",
    });
    const ended = new Promise((resolve) => child.once("exit", (code, signal) => resolve(signal ?? code)));
    while (!everything().some((path) => path.endsWith("part-1")) && child.exitCode === null) await wait(5);
    child.kill("SIGKILL");
    expect(await ended).toBe("SIGKILL");
    expect(existsSync(placeOf(artifactKey(spec)))).toBe(false);
    expect(everything().some((path) => path.endsWith("part-1"))).toBe(true);
    expect(listArtifacts(folder)).toEqual([]);

    const counter = counted();
    const artifact = await openArtifactStore(folder).resolve(spec, counter.compute);
    expect([counter.runs, artifact.fromCache, artifact.names]).toEqual([1, false, ["scan.json", "scan.npy"]]);
    expect(removeAbandonedParts(folder)).toBe(1);
    expect(everything().filter((path) => path.includes(".part"))).toEqual([]);
    expect(artifact.readText("scan.json")).toBe('{"unit":"V"}');
  });
});

describe("an artifact that was altered", () => {
  const damages: [string, (place: string) => void][] = [
    ["one byte of a file", (place) => writeFileSync(join(place, "scan.npy"), Uint8Array.of(1, 2, 4))],
    ["a file cut short", (place) => writeFileSync(join(place, "scan.npy"), Uint8Array.of(1, 2))],
    ["a file longer", (place) => appendFileSync(join(place, "scan.npy"), "x")],
    ["a file gone", (place) => rmSync(join(place, "scan.json"))],
    ["the manifest gone", (place) => rmSync(join(place, "manifest.json"))],
    [
      "the manifest cut short",
      (place) =>
        writeFileSync(join(place, "manifest.json"), readFileSync(join(place, "manifest.json"), "utf8").slice(0, 300)),
    ],
    ["the specification in the manifest", (place) => editManifest(place, '"seed": 1', '"seed": 2')],
    ["the digest in the manifest", (place) => editManifest(place, '"digest": "', '"digest": "0')],
    ["a file off the manifest's list", (place) => editManifest(place, '"scan.json"', '"other.json"')],
  ];

  function editManifest(place: string, from: string, to: string): void {
    const path = join(place, "manifest.json");
    const text = readFileSync(path, "utf8");
    expect(text).toContain(from);
    writeFileSync(path, text.replace(from, to));
  }

  it.each(damages)("%s: is computed again, never trusted", async (_what, damage) => {
    const counter = counted();
    const { key, digest } = await openArtifactStore(folder).resolve(spec, counter.compute);
    damage(placeOf(key));
    expect(listArtifacts(folder)).toMatchObject([{ fault: expect.any(String) }]);
    const again = await openArtifactStore(folder).resolve(spec, counter.compute);
    expect([counter.runs, again.fromCache, again.digest]).toEqual([2, false, digest]);
    expect((await openArtifactStore(folder).resolve(spec, counter.compute)).fromCache).toBe(true);
    expect(everything().filter((path) => path.includes(".part"))).toEqual([]);
  });

  it("after it was found sound is refused when it is read", async () => {
    const artifact = await openArtifactStore(folder).resolve(spec, () => files);
    writeFileSync(artifact.path("scan.npy"), Uint8Array.of(9, 9, 9));
    expect(() => artifact.read("scan.npy")).toThrowError(
      expect.toSatisfy((error) => isKnownError(error, "InvalidFile")),
    );
  });

  it("a file that a step does not make is refused by name", async () => {
    const artifact = await openArtifactStore(folder).resolve(spec, () => files);
    expect(() => artifact.read("map.npy")).toThrow(/"map\.npy".*one of scan\.json, scan\.npy/);
  });
});

describe("writers at once", () => {
  it("of one key in one process end with one sound artifact that both read", async () => {
    const store = openArtifactStore(folder);
    const slow = (ms: number) => () => wait(ms, files);
    const all = await Promise.all([5, 10, 15, 20].map((ms) => store.resolve(spec, slow(ms))));
    expect(new Set(all.map(({ digest }) => digest)).size).toBe(1);
    for (const artifact of all) expect([...artifact.read("scan.npy")]).toEqual([1, 2, 3]);
    expect(everything().filter((path) => path.includes(".part"))).toEqual([]);
  });

  it("that disagree (a method that is not deterministic): the first stays, and both read the first", async () => {
    const store = openArtifactStore(folder);
    const [late, early] = await Promise.all([
      store.resolve(spec, () => wait(30, { "a.txt": "late" })),
      store.resolve(spec, async () => ({ "a.txt": "early" })),
    ]);
    expect([early.readText("a.txt"), late.readText("a.txt")]).toEqual(["early", "early"]);
    expect(late.digest).toBe(early.digest);
  });

  it("in several processes end with one sound artifact", async () => {
    const store = new URL("artifact-store.ts", import.meta.url).href;
    const script = `const { openArtifactStore } = await import(${JSON.stringify(store)});
      const files = { "scan.npy": new Uint8Array(1 << 20).fill(5), "scan.json": "{}" };
      for (let i = 0; i < 20; i++)
        await openArtifactStore(${JSON.stringify(folder)}).resolve({ ...${JSON.stringify(spec)}, methodVersion: i + 1 }, () => files);`;
    const codes = await Promise.all(
      [1, 2].map(
        () =>
          new Promise((resolve) =>
            spawn(process.execPath, ["--import", "tsx", "--input-type=module", "-e", script], { stdio: "ignore" }).once(
              "exit",
              resolve,
            ),
          ),
      ),
    );
    expect(codes).toEqual([0, 0]);
    const listed = listArtifacts(folder);
    expect(listed).toHaveLength(20);
    expect(listed.filter(({ fault }) => fault !== undefined)).toEqual([]);
    expect(new Set(listed.map(({ digest }) => digest)).size).toBe(1);
    expect(everything().filter((path) => path.includes(".part"))).toEqual([]);
    expect(
      readFileSync(join(folder, "derived", "log.jsonl"), "utf8")
        .trim()
        .split("\n"),
    ).toHaveLength(40);
  });
});

describe("nodeName", () => {
  it("makes a name of a folder of what people wrote", () => {
    expect(nodeName("scan", "mouse 1, 24 h")).toBe("scan-mouse-1-24-h");
    expect(() => artifactKey({ ...spec, node: nodeName("scan", "../a.b/ä", "x".repeat(200)) })).not.toThrow();
  });
});

describe("refusals", () => {
  it.each<[string, Partial<ArtifactSpec>]>([
    ["node", { node: "../outside" }],
    ["node", { node: "log.jsonl" }],
    ["methodVersion", { methodVersion: 1.5 }],
    ["kernel", { kernel: "" }],
    ["inputs.phantom", { inputs: { phantom: "phantom.json" } }],
    ["options.step_m", { options: { step_m: Number.NaN } }],
  ])("%s is named", (path, change) => {
    expect(() => artifactKey({ ...spec, ...change })).toThrowError(
      expect.objectContaining({ code: "InvalidValue", place: { path } }),
    );
  });
});

describe("listArtifacts", () => {
  it("says node, key, digest and sizes; nothing where nothing is", async () => {
    expect(listArtifacts(folder)).toEqual([]);
    const { key, digest } = await openArtifactStore(folder).resolve(spec, () => files);
    expect(listArtifacts(folder)).toEqual([
      { node: "scan-vials", key, digest, sizes_bytes: { "scan.json": 12, "scan.npy": 3 } },
    ]);
  });
});
