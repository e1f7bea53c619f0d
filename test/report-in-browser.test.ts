import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { runFerrule } from "./run-ferrule.js";
import { toolForTest } from "./tools.js";

const chromium = toolForTest("chromium");
const quiet = [
  "--headless",
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

describe.skipIf(chromium === null)("the report of a study in a real browser", () => {
  let folder: string;
  let report: string;
  let regions: { region: string }[];
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), "ferrule-browser-"));
    expect(runFerrule(["new", "study", "--from", "four-spheres"], { cwd: folder }).code).toBe(0);
    const { code, stdout } = runFerrule(["run", "study", "--json"], { cwd: folder });
    expect(code).toBe(0);
    regions = JSON.parse(stdout).answers;
    report = join(folder, "study", "results", "report.html");
  }, 300_000);
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  const browse = (...args: string[]) =>
    spawnSync(
      chromium!,
      [...quiet, `--user-data-dir=${join(folder, "profile")}`, ...args, pathToFileURL(report).href],
      { encoding: "utf8", timeout: 90_000, maxBuffer: 64 << 20 },
    );

  it("becomes a page with every region, its figures, and no slip of a number", () => {
    const { status, stdout: page } = browse("--dump-dom");
    expect(status).toBe(0);
    expect(regions.length).toBeGreaterThan(0);
    for (const { region } of regions) expect(page).toContain(region);
    expect(page.match(/<svg[\s>]/g)?.length ?? 0).toBeGreaterThan(2);
    const words = page.replace(/<style[\s\S]*?<\/style>|<[^>]+>/g, " ");
    expect(words).not.toMatch(/\bNaN\b|\bundefined\b|\[object/);
    expect(words).toMatch(/not a medical device/i);
  }, 100_000);

  it("asks for nothing outside itself", () => {
    // The report must be readable years later on a machine without a network.
    const html = readFileSync(report, "utf8");
    expect(html.match(/(?:src|href|url\()\s*=?\s*["']?(?:https?:)?\/\//g)).toBeNull();
  });

  it("prints to PDF", () => {
    const pdf = join(folder, "report.pdf");
    expect(browse("--no-pdf-header-footer", `--print-to-pdf=${pdf}`).status).toBe(0);
    const bytes = readFileSync(pdf);
    expect(bytes.subarray(0, 5).toString("latin1")).toBe("%PDF-");
    // A page of text and vector figures; an empty page makes 1 kB.
    expect(bytes.length).toBeGreaterThan(20_000);
  }, 100_000);
});
