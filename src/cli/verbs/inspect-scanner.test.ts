import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { idealDocument, shippedFile, shippedNames } from "../../../test/invented-scanners.js";
import { isKnownError } from "../../errors.js";
import { writeNpy } from "../../formats/index.js";
import { stream } from "../../numerics/index.js";
import { parseQuantity } from "../../units/index.js";
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

type Shipped = (typeof shippedNames)[number];
const inspected = new Map<Shipped, { file: string; printed: string[]; report: string }>();

/** A shipped scanner as printed and as JSON; inspected once. */
async function shipped(name: Shipped) {
  const file = shippedFile(`scanners/${name}.json`);
  const known = inspected.get(name);
  if (known !== undefined) return known;
  const both = { file, printed: await inspect(file), report: (await inspect(file, "--json")).join("\n") };
  inspected.set(name, both);
  return both;
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
    const { file, printed, report } = await shipped(name);
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

  it("says in each class which limit is reached first, where the analysis made its bands anew", async () => {
    const { printed } = await shipped("head-concept");
    const first = printed.filter((line) => line.endsWith("reached first in its class"));
    // One in each class that has a limit: the largest value over its strictest limit.
    expect(first).toHaveLength(2);
    expect(first[0]).toMatch(
      /^ {2}scan subject {2}nerve stimulation \(peak to peak\), drive z at 25 kHz .* 1\.15 to 3\.10 /,
    );
    expect(first[1]).toMatch(/^ {2}staff {9}static stray field, implants/);
  });

  it.each(shippedNames)("%s: every source's line with value, limit, ratio, edition and caution", async (name) => {
    const { printed, report } = await shipped(name);
    const lines: readonly Record<string, string | null>[] = JSON.parse(report).limits;
    const start = printed.indexOf("Every limit in our sources");
    const end = printed.indexOf("", start);
    const section = printed.slice(start + 1, end);
    expect(section.filter((line) => line.length > 100)).toEqual([]);
    const words = section.join(" ").replace(/\s+/g, " ");
    expect(lines.length).toBeGreaterThan(10);
    for (const { source, edition, status, caution, limit } of lines) {
      const known = `${source} | ${edition === "none" ? "no edition" : edition} | ${status} [`;
      expect(words).toContain(limit === null ? `- - no published threshold in our sources | ${known}` : known);
      expect(words.split(`] ${caution}`)).toHaveLength(2); // told once
    }
    const marks = [...words.matchAll(/ \| [^|]* \| [^|[]* \[\d+\]/g)];
    expect(marks).toHaveLength(lines.length);
  });

  it("tells the background by both ways of its drift, with the noise", async () => {
    const { printed, report } = await shipped("head-concept");
    const row = printed.find((line) => line.startsWith("    background"));
    const words =
      /^ +background +([\d.]+ \S+) Fe if its harmonics drift together \(([\d.]+ \S+) if each on its own\), does not fall with time; with noise ([\d.]+ \S+) Fe$/;
    const [together, apart, both] = (words.exec(row ?? "") ?? []).slice(1).map((mass) => parseQuantity(mass, "mass"));
    // Drifts that add up are worse than drifts that average; noise adds to them.
    expect(together).toBeGreaterThan(apart);
    expect(both).toBeGreaterThanOrEqual(together);
    const [{ backgroundLimited }] = JSON.parse(report).detection;
    expect(apart / backgroundLimited.limits_kg.detection).toBeCloseTo(1, 3); // four digits are printed
  });

  it("gives the figures of a line: 12 mT from peak to peak at 25 kHz beside 7.60 mT", async () => {
    const { printed } = await shipped("head-concept");
    // A drive of 6 mT. Default of the standard, b (d + c): 20 T/s (1/(2 x 25 kHz) + 0.36 ms) = 7.6 mT.
    const line = printed.find((each) => each.includes("whole-body default, first level"));
    expect(line).toMatch(/^ +12\.0 mT +7\.60 mT +1\.58 {2}IEC 60601-2-33/);
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
