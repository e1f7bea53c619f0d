import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { unitGuide, unitTable } from "./guide.js";
import { unitSymbols } from "./symbols.js";

it("the committed page docs/guide/units.md equals the tables", () => {
  // after a change of the tables: npx tsx -e 'import("./src/units/guide.ts").then((m) => process.stdout.write(m.unitGuide()))' > docs/guide/units.md
  expect(readFileSync(new URL("../../docs/guide/units.md", import.meta.url), "utf8")).toBe(unitGuide());
});

it("lists every symbol once", () => {
  expect(unitTable().map(({ symbol }) => symbol)).toEqual(unitSymbols.map(({ symbol }) => symbol));
  expect(unitTable().find(({ symbol }) => symbol === "G")?.inSI).toBe("1e-4 kg.s-2.A-1");
});
