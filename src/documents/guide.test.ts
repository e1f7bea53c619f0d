import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { familyNames } from "./families.js";
import { parseDocument } from "./parse-document.js";

const guide = readFileSync(new URL("../../docs/guide/documents.md", import.meta.url), "utf8");
const examples = [...guide.matchAll(/```json\n([\s\S]*?)```/g)].map((match) => match[1]);

describe("docs/guide/documents.md", () => {
  it("shows one full example of each family, and each can be read", () => {
    expect(examples.map((text) => parseDocument(text).family)).toEqual(familyNames);
  });

  it("shows the examples that the tests use", () => {
    for (const [index, family] of familyNames.entries())
      expect(examples[index]).toBe(readFileSync(new URL(`fixtures/${family}.json`, import.meta.url), "utf8"));
  });

  it("quotes a message as it is printed", () => {
    const message = /```text\n(.*)\n```/.exec(guide)?.[1];
    const bare = examples[1].replace('"-3.5 T/m"', "-3.5");
    expect(() => parseDocument(bare, { file: "scanner.json" })).toThrowError(expect.objectContaining({ message }));
  });
});
