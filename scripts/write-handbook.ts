import { writeFileSync } from "node:fs";
import { handbookMarkdown } from "../src/handbook/index.js";

/** `npx tsx scripts/write-handbook.ts` writes docs/guide/handbook.md from the declarations. */
writeFileSync(new URL("../docs/guide/handbook.md", import.meta.url), handbookMarkdown());
