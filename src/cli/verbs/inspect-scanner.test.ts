import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { idealDocument, shippedFile, shippedNames } from "../../../test/invented-scanners.js";
import { isKnownError } from "../../errors.js";
import { writeNpy } from "../../formats/index.js";
import { stream } from "../../numerics/index.js";
import type { Face } from "../face.js";
import { buildProgram } from "../program.js";

const folder = mkdtempSync(join(tmpdir(), "ferrule-inspect-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function inspect(...args: readonly string[]): Promise<string[]> {
  const lines: string[] = [];
  const face: Face = {
    print: (line) => lines.push(...line.split("\n")),
    note: () => {},
    progress: () => {},
    bold: (text) => text,
    faint: (text) => text,
    signal: new AbortController().signal,
  };
  await buildProgram(face, () => {}).parseAsync(["inspect", ...args], { from: "user" });
  return lines;
}

const ideal = join(folder, "ideal.json");
writeFileSync(ideal, JSON.stringify(idealDocument({ subject: { part: "mouse" } })));

async function refusal(...args: readonly string[]) {
  const error = await inspect(...args).catch((caught: unknown) => caught);
  if (!isKnownError(error)) throw error;
  return { code: error.code, path: error.place.path };
}

describe("ferrule inspect of a scanner", () => {
  it.each(shippedNames)("%s: every section, units, and never the word that clears a person", async (name) => {
    const file = shippedFile(`scanners/${name}.json`);
    const printed = await inspect(file);
    const report = (await inspect(file, "--json")).join("\n");
    expect(printed[0]).toBe(`${file}: sound scanner document, version 1`);
    const titles = printed.filter((line) => /^(Field|Coils|Receive|Detection|Limits)/.test(line));
    expect(titles.map((line) => line.split(" ")[0])).toEqual(["Field", "Coils", "Receive", "Detection", "Limits"]);
    for (const words of [...printed, report]) {
      expect(words).not.toMatch(/\bsafe(ly|ty)?\b/i);
      expect(words).not.toMatch(/NaN|undefined|Infinity|\[object/);
    }
    expect(printed.at(-1)).toMatch(/licensed practice decide\.$/);
    const parsed = JSON.parse(report);
    for (const key of ["fieldFree", "gradient_T_per_m", "withinTenPercent", "noise", "limits", "firstLimit"])
      expect(parsed).toHaveProperty(key);
    // Prose is wrapped for a terminal; only tables are wider.
    expect(printed.filter((line) => line.startsWith("  Caution:") && line.length > 100)).toEqual([]);
    // Coils of which the same is said are named together.
    const pair = "Caution: selection coil front, selection coil back: ";
    expect(printed.filter((line) => line.includes(pair))).toHaveLength(name === "mouse-point" ? 1 : 0);
  });

  it("an ideal scanner: nothing of coils, the gradient as stated, no empty section", async () => {
    const printed = await inspect(ideal);
    expect(printed).toContain("  no coil or magnet is stated: no power, voltage or mass");
    expect(printed.find((line) => line.startsWith("  principal gradients"))).toMatch(
      /7\.000 T\/m, -3\.500 T\/m, -3\.500 T\/m$/,
    );
  });

  it("an iron dose and empties add their lines", async () => {
    const random = stream(20261125, 6, 0);
    const empties = join(folder, "empties.npy");
    const data = Float64Array.from({ length: 64 }, () => 1 + 1e-3 * random.normal());
    writeFileSync(empties, writeNpy({ type: "<f8", shape: [64], data }));
    const printed = await inspect(ideal, "--iron-dose", "0.29 mg", "--empties", empties, "--empty-interval", "2 s");
    expect(printed.filter((line) => line.includes("iron dose"))).not.toEqual([]);
    expect(printed.find((line) => line.startsWith("    from the empties"))).toMatch(/best limit .* Fe after /);
  });

  it("refuses empties without their interval, a time of zero, and options on what is no scanner", async () => {
    expect(await refusal(ideal, "--empties", "missing.npy")).toEqual({
      code: "MissingFact",
      path: "--empty-interval",
    });
    expect(await refusal(ideal, "--time", "0 s")).toEqual({ code: "InvalidValue", path: "--time" });
    const tracer = shippedFile("tracers/free-cores-22-nm.json");
    expect(await refusal(tracer, "--iron-dose", "1 mg")).toEqual({ code: "InvalidValue", path: "--iron-dose" });
    expect(await refusal(tracer, "--empty-interval", "1 s")).toEqual({
      code: "InvalidValue",
      path: "--empty-interval",
    });
  });
});
