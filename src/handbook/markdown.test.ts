import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { catalogue } from "./catalogue.js";
import { handbookMarkdown } from "./markdown.js";

describe("the handbook as Markdown", () => {
  it("is what docs/guide/handbook.md says (write it with: npx tsx scripts/write-handbook.ts)", () => {
    const committed = readFileSync(new URL("../../docs/guide/handbook.md", import.meta.url), "utf8");
    expect(committed).toBe(handbookMarkdown());
  });

  it("has one section, equation and source for each formula", () => {
    const text = handbookMarkdown();
    for (const { name, equation, source } of catalogue) {
      expect(text.split(`\n## ${name}\n`)).toHaveLength(2);
      expect(text).toContain(equation);
      expect(text).toContain(`Source (${source.status}): ${source.text}`);
    }
  });

  it("keeps a bar inside a cell from ending it", () => {
    const [formula] = catalogue;
    expect(handbookMarkdown([{ ...formula, summary: "|a|" }])).toContain("\\|a\\|");
  });
});
