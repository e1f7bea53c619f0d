import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { parseDocument } from "../parse-document.js";
import { stateChange, stateWords, tracerInState } from "./tracer-state.js";

const file = "shipped/tracers/free-cores-22-nm.json";
const text = readFileSync(new URL(`../../../${file}`, import.meta.url), "utf8");
const { model: tracer } = parseDocument(text, { file, family: "tracer" });
const celsius = (value: number) => value + 273.15;
const state = (medium: "water" | "blood" | "gel" | "cells", value: number) => ({
  medium,
  temperature_K: celsius(value),
});

describe("tracerInState", () => {
  it("takes relaxation and temperature of the state, and says where they come from", () => {
    const gel = tracerInState(tracer, state("gel", 22));
    expect(gel.relaxation.kind).toBe("neel");
    expect(gel.environment).toEqual({ medium: "gel", temperature_K: celsius(22) });
    expect(gel.advisories.at(-1)).toMatch(/in gel at 22 \u00b0C: from invented spectrum/);
  });

  it("keeps the tracer's relaxation where none was measured, and says so", () => {
    const cells = tracerInState(tracer, state("cells", 37));
    expect(cells.relaxation).toEqual(tracer.relaxation);
    expect(cells.advisories.at(-1)).toMatch(/no relaxation was measured in cells at 37/);
  });

  it("is the tracer itself in its own environment, and refuses a state that was not measured", () => {
    expect(tracerInState(tracer, tracer.environment)).toBe(tracer);
    expect(() => tracerInState(tracer, state("blood", 22))).toThrow(/blood at 22 \u00b0C/);
    expect(() => tracerInState(tracer, state("blood", 22))).toThrow(/blood at 37 \u00b0C/);
  });
});

describe("stateChange", () => {
  it("is the ratio of two measured factors with both their uncertainties", () => {
    const { ratio, advisories } = stateChange(tracer, state("water", 37), state("blood", 37));
    expect(ratio?.value).toBeCloseTo(0.82 / 1.06, 12);
    // (0.03/0.82)^2 + (0.01/1.06)^2 = 1.4275e-3; the root 0.037782 of 0.773585.
    expect(ratio?.standardUncertainty).toBeCloseTo(0.029228, 5);
    expect(advisories.join()).toMatch(/divided by the measured signal ratio 0\.774 \u00b1 0\.029/);
  });

  it("from the tracer's own environment is the factor itself", () => {
    expect(stateChange(tracer, tracer.environment, state("cells", 37)).ratio).toEqual({
      value: 0.6,
      standardUncertainty: expect.closeTo(0.06, 12),
    });
  });

  it("says that masses are not corrected where a factor is missing", () => {
    const { ratio, advisories } = stateChange(tracer, tracer.environment, state("blood", 22));
    expect(ratio).toBeUndefined();
    expect(advisories.join()).toMatch(/calibrated in water at 22 \u00b0C and used in blood at 22 \u00b0C/);
    expect(advisories.join()).toMatch(/not corrected/);
  });

  it("has nothing to say in one and the same state", () => {
    expect(stateChange(tracer, state("gel", 22), state("gel", 22))).toEqual({ advisories: [] });
    expect(stateWords(state("gel", 22))).toBe("gel at 22 \u00b0C");
  });
});
