import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import * as door from "./index.js";

const here = new URL(".", import.meta.url);
const sources = readdirSync(here, { recursive: true, encoding: "utf8" })
  .filter((name) => name.endsWith(".ts") && !name.endsWith(".test.ts"))
  .map((name) => ({ name, text: readFileSync(new URL(name, here), "utf8") }));
const importsOf = (text: string) =>
  Array.from(text.matchAll(/^(?:import|export)\s[^;]*?from "([^"]+)"/gms), ([whole, from]) => ({ whole, from }));

describe("the door of the numerics layer", () => {
  it("shows these names; a change here is a change of the layer's public face", () => {
    expect(Object.keys(door).sort()).toEqual([
      "afterIterations",
      "betaQuantile",
      "bracketRoot",
      "cel",
      "chiSquareCdf",
      "chiSquareQuantile",
      "choleskyFactor",
      "choleskyInverse",
      "choleskySolve",
      "compose",
      "conjugateGradient",
      "denseOperator",
      "diagonal",
      "ellipticE",
      "ellipticK",
      "ellipticKE",
      "erf",
      "erfc",
      "fiellerInterval",
      "findMinimum",
      "findRoot",
      "finishInSlices",
      "finishSteps",
      "firstOf",
      "fitLine",
      "fourierPlan",
      "gaussHermite",
      "gaussLegendre",
      "incompleteBeta",
      "incompleteGamma",
      "integrate",
      "jacobiSvd",
      "lagOneAutocorrelation",
      "leastSquares",
      "logGamma",
      "nonNegativeLeastSquares",
      "nonNegativeQuadratic",
      "normal",
      "normalCdf",
      "normalPdf",
      "normalQuantile",
      "normalTables",
      "operatorBattery",
      "partOf",
      "predictInverse",
      "requireFits",
      "requireSameSpace",
      "residualAbove",
      "residualBelow",
      "run",
      "runInSlices",
      "runsTest",
      "scaled",
      "sizeOf",
      "solveLeastSquares",
      "solveSquare",
      "stack",
      "stagnation",
      "stream",
      "studentTCdf",
      "studentTQuantile",
      "sum",
      "svd",
    ]);
  });

  it("imports nothing outside the layer but errors.ts, and no package when loaded", () => {
    expect(sources.length).toBeGreaterThan(40);
    for (const { name, text } of sources)
      for (const { whole, from } of importsOf(text)) {
        const isOwn = from.startsWith("./") || /^\.\.\/[a-z]/.test(from) || /^(\.\.\/)+errors\.js$/.test(from);
        const isTypeOfPackage = whole.startsWith("import type") && from === "ml-matrix";
        expect(isOwn || isTypeOfPackage, `${name} imports ${from}`).toBe(true);
        if (name !== "index.ts") expect(from.endsWith("/index.js"), `${name} goes through a door`).toBe(false);
      }
  });
});
