import { expect, it } from "vitest";
import { idealScanner, shippedFile, shippedScanner } from "../../../test/invented-scanners.js";
import { isKnownError } from "../../errors.js";
import { analyseScanner } from "./analyse-scanner.js";
import { scannerReport } from "./scanner-report.js";

/** As a machine reads it: what JSON cannot hold would be gone or null. */
const asRead = (report: unknown) => JSON.parse(JSON.stringify(report));

it("holds what the machine-readable report promises, as plain finite numbers", async () => {
  const parts: number[] = [];
  const analysis = await analyseScanner(shippedScanner("head-concept"), {}, { onProgress: (part) => parts.push(part) });
  const report = asRead(scannerReport(analysis));
  expect(report.fieldFree).toMatchObject({ kind: "point", position_m: expect.any(Array), others: [] });
  expect(report.gradient_T_per_m).toHaveLength(3);
  for (const row of report.gradient_T_per_m) expect(row.every(Number.isFinite)).toBe(true);
  expect(report.withinTenPercent).toMatchObject({ share: 0.1, sphereRadius_m: expect.any(Number) });
  expect(report.noise).toEqual([
    expect.objectContaining({ axis: "z", total: expect.any(Number), coil: expect.any(Number), unit: "V/Hz^0.5" }),
  ]);
  const keys = ["value", "limit", "ratio", "source", "edition", "caution"];
  for (const line of report.limits) expect(Object.keys(line)).toEqual(expect.arrayContaining(keys));
  expect(Object.keys(report.firstLimit).sort()).toEqual(["scan subject", "staff"]);
  expect(report.firstLimit["scan subject"].class).toBe("scan subject");
  expect(report.detection[0]).toMatchObject({ element: "Fe", axis: "z", time_s: 1 });
  expect(report.notice).toMatch(/^Research use; not a medical device\./);
  // Progress rises to 1.
  expect(parts).toEqual([...parts].sort((a, b) => a - b));
  expect(parts.at(-1)).toBe(1);
});

it("a field-free line is told with its direction and how straight it is", async () => {
  const report = asRead(scannerReport(await analyseScanner(shippedScanner("rat-line"))));
  expect(report.fieldFree).toMatchObject({ kind: "line", straightness_m: expect.any(Number) });
  expect(Math.abs(report.fieldFree.direction[1])).toBeCloseTo(1, 6);
  expect(report.firstLimit).toMatchObject({ animal: null, staff: { class: "staff" } });
});

it("a tracer's file takes the place of the ideal cores, which are named as such", async () => {
  const own = await analyseScanner(idealScanner(), {
    tracerFile: shippedFile("studies/four-spheres/tracer/langevin-25-nm.json"),
  });
  expect(own.advisories.filter((text) => text.includes("ideal; give --tracer"))).toEqual([]);
  const { advisories } = await analyseScanner(idealScanner());
  expect(advisories).toContain("detection: reference cores 25 nm, ideal; give --tracer for a real one");
});

it("ends as cancelled once a stop is asked", async () => {
  const abort = new AbortController();
  const running = analyseScanner(
    shippedScanner("mouse-point"),
    {},
    { signal: abort.signal, onProgress: () => abort.abort() },
  );
  const error = await running.catch((caught: unknown) => caught);
  expect(isKnownError(error, "Cancelled")).toBe(true);
});
