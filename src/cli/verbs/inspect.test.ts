import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import type { Face } from "../face.js";
import { buildProgram } from "../program.js";

const fixtures = fileURLToPath(new URL("../../documents/fixtures", import.meta.url));
const curve = fileURLToPath(new URL("../../../shipped/curves/clustered-iron-oxide/FSL-DCM_data.txt", import.meta.url));

async function inspect(...args: readonly string[]): Promise<string[]> {
  const lines: string[] = [];
  const face: Face = {
    print: (line) => lines.push(line),
    note: () => {},
    progress: () => {},
    bold: (text) => text,
    faint: (text) => text,
    signal: new AbortController().signal,
  };
  await buildProgram(face, () => {}).parseAsync(["inspect", ...args], { from: "user" });
  return lines;
}

describe("ferrule inspect", () => {
  it("with --json prints one document", async () => {
    const lines = await inspect(`${fixtures}/phantom.json`, "--json");
    expect(lines).toHaveLength(1);
    expect(JSON.parse(lines[0])).toMatchObject({ format: "phantom document", version: "1", sound: true });
  });

  it("says on its first line what the file is, then what it holds, in lines that a terminal can hold", async () => {
    const [first, ...rest] = await inspect(curve);
    expect(first).toBe(`${curve}: sound magnetisation curve`);
    expect(rest).toContain("  points: 45");
    expect(rest).toContain("  field_T: [0.00005898931, 4.019039]");
    expect(rest.filter((line) => line.length > 100)).toEqual([]);
    expect(rest.filter((line) => line.includes("[object"))).toEqual([]);
  });
});
