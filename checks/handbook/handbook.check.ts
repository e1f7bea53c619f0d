import { describe, expect, it } from "vitest";
import { evaluateFormula } from "../../src/handbook/index.js";
import {
  langevinRatioWidth,
  langevinSlope,
  langevinSlopeWidth,
  type ParticleEnsemble,
  staticWidthAlong_m,
  xiPerTesla,
} from "../../src/physics/index.js";
import { parseQuantity, vacuumPermeability_T_m_per_A } from "../../src/units/index.js";
import { printedTolerance, relativeDeviation, truth } from "./compare.js";

/*
 * Tolerances. Rows W carry the relative tolerance that the sheet states beside them (its printed digits, or the rounding
 * of its inputs); every other printed value must be met to half a unit of its last digit. We aim to reproduce every
 * printed digit: the arithmetic itself is good to 1e-14.
 */
function expectPrinted(found: number, printed: string, rtol = printedTolerance(printed)): void {
  expect(relativeDeviation(found, printed), `found ${found}, printed ${printed}`).toBeLessThanOrEqual(rtol);
}

const tracer25nm: ParticleEnsemble = {
  sizes: { kind: "single", diameter_m: 25e-9 },
  saturation_A_per_m: 446e3,
  temperature_K: 300,
};

const answer = (formula: string, inputs: Readonly<Record<string, string>>, output: string): number => {
  const found = evaluateFormula(formula, inputs).outputs.find(({ name }) => name === output);
  return found?.value ?? Number.NaN;
};

describe("formulas, asked as a person asks them", () => {
  it("has all its cases", () => {
    const counts: Record<string, number> = {};
    for (const { row } of truth.formulas) counts[row] = (counts[row] ?? 0) + 1;
    expect(counts).toEqual({
      W1: 7, W2: 7, W5: 4, W6: 2, W9: 4, W10: 4, W12: 4, W15: 3, W16: 3, W17: 2, W18: 6, W19: 3, W20: 3, W22: 2, W23: 3,
      W26: 8, W27: 4, W28: 2, W31: 6, W32: 4, W34: 2, W35: 2, W36: 1, W37: 2, W38: 2, W42: 1, E12: 1, M22: 3, M23: 2, N10: 4, N14: 3, G1: 8,
      "S8, 1 axis": 1, "S8, 2 axes": 1, "table, 310.15 K": 1,
      "published medians": 1, "surprise 1": 2, "surprise 12": 1,
    }); // biome-ignore format: a table of counts
  });

  it("gives a reason for every tolerance that is neither the sheet's nor the printed digits", () => {
    const without = truth.formulas.filter(({ row, rtol, why }) => rtol !== undefined && !row.startsWith("W") && !why);
    expect(without).toEqual([]);
  });

  it.each(truth.formulas)("$row $formula $output = $value", ({ formula, inputs, output, value, rtol }) => {
    expectPrinted(answer(formula, inputs, output), value, rtol);
  });

  it("W7: the width falls with the cube of the diameter", () => {
    const width = (d: string) =>
      answer(
        "x-space-resolution",
        { "core-diameter": d, saturation: "446 kA/m", temperature: "300 K", gradient: "7 T/m" },
        "static-width",
      );
    expect(Math.abs(width("20 nm") / width("25 nm") / 1.953125 - 1)).toBeLessThan(1e-12);
  });

  it("M12: we use the exact prefactor: 24 gives widths 3.9 % too narrow", () => {
    const inputs = { "core-diameter": "25 nm", saturation: "0.6 T/mu0", temperature: "300 K", gradient: "6 T/m" };
    const ratio = answer("x-space-resolution", inputs, "static-width") / 0.706892; // W5: what 24 gives
    expect(ratio).toBeCloseTo((6 * 4.161048) / 24, 5);
  });

  it("exact Currie: L_D = k^2 + 2 L_C with k^2 = 2.7055 (trap 11)", () => {
    const get = (output: string) => answer("currie-limits", { blank: "100" }, output);
    expect(get("exact-detection-paired") - 2 * get("exact-critical-paired")).toBeCloseTo(2.7055, 4);
    expect(get("exact-critical-known-blank") / 10).toBeCloseTo(1.6448536, 7);
    expect(get("exact-critical-paired") / get("exact-critical-known-blank")).toBeCloseTo(Math.SQRT2, 12);
  });
});

describe("constants", () => {
  it("M10, M11, W3, W4: widths in xi and their ratio, 1e-6 as stated", () => {
    expectPrinted(langevinSlopeWidth, truth.constants["M10 width of L'"], 1e-6);
    expectPrinted(langevinRatioWidth, truth.constants["M11 width of L/xi"], 1e-6);
    expectPrinted(langevinRatioWidth / langevinSlopeWidth, truth.constants["W4 ratio"], 1e-6);
  });

  it("W5: xi per mT, 1e-6 as stated", () => {
    const perTesla = xiPerTesla(25e-9, parseQuantity("0.6 T/mu0", "magnetisation"), 300);
    expectPrinted(perTesla * 1e-3, truth.constants["W5 xi per mT (25 nm, 0.6 T/mu0)"], 1e-6);
  });

  it("N13, N14: loop centre sensitivity and the whole chain from 1 ng Fe to volts", () => {
    const sensitivity_T_per_A = vacuumPermeability_T_m_per_A / (2 * 20e-3);
    expectPrinted(sensitivity_T_per_A, "3.14159e-5");
    const rate = answer(
      "peak-moment-rate",
      {
        "iron-mass": "1 ng",
        "core-diameter": "25 nm",
        saturation: "446 kA/m",
        temperature: "300 K",
        "drive-amplitude": "20 mT",
        frequency: "25 kHz",
      },
      "moment-rate",
    );
    const inputs = { sensitivity: `${sensitivity_T_per_A} T/A`, "moment-rate": `${rate} A.m2/s` };
    expectPrinted(answer("reciprocity-voltage", inputs, "magnitude"), "3.4485");
  });
});

describe("W8: Fourier transform of L', 2 pi w / (exp(pi w) - 1)", () => {
  // Trapezoid over |xi| <= 20,000 in steps of 0.25: the rule's own error is exp(-2 pi^2/0.25); the cut tail is about
  // sin/(w 20,000^2), 2e-7 of the smallest value. Stated tolerance 1e-5.
  it.each(truth.fourier)("at w = %s", (w, value) => {
    const step = 0.25;
    let sum = langevinSlope(0);
    for (let n = 1; n <= 80_000; n++) sum += 2 * langevinSlope(n * step) * Math.cos(Number(w) * n * step);
    expectPrinted(sum * step, value, 1e-5);
  });
});

describe("computed table, 300 K", () => {
  it.each(truth.table.rows)("%s nm", (d, ...printed) => {
    const particle = (saturation: string) => ({ "core-diameter": `${d} nm`, saturation, temperature: "300 K" });
    const resolution = (gradient: string) =>
      answer("x-space-resolution", { ...particle("446 kA/m"), gradient }, "static-width");
    const found = [
      xiPerTesla(Number(d) * 1e-9, 446e3, 300) * 1e-3,
      answer("psf-width", particle("446 kA/m"), "static-width"),
      answer("psf-width", particle("0.6 T/mu0"), "static-width"),
      resolution("2.5 T/m"),
      resolution("6 T/m"),
      resolution("7 T/m"),
      answer("psf-width-transverse", particle("446 kA/m"), "static-width") / 7,
    ];
    expect(found.length).toBe(printed.length);
    found.forEach((value, i) => {
      expectPrinted(value, printed[i]);
    });
  });

  it("has five rows", () => expect(truth.table.rows.map(([d]) => d)).toEqual(["15", "20", "25", "30", "35"]));
});

describe("widths for a gradient tensor", () => {
  const unit = { x: [1, 0, 0], y: [0, 1, 0], z: [0, 0, 1] } as const;
  const width_m = ([x, y, z]: readonly [number, number, number], drive: "x" | "y" | "z", along: "x" | "y" | "z") =>
    staticWidthAlong_m(tracer25nm, [x, 0, 0, 0, y, 0, 0, 0, z], { drive: unit[drive], along: unit[along] });

  it.each(truth.tensors)("$diagonal_T_per_m T/m, drive $drive, along $along: $width_mm mm", (tensor) => {
    expectPrinted(width_m(tensor.diagonal_T_per_m, tensor.drive, tensor.along) * 1e3, tensor.width_mm);
  });

  it("has seven cases", () => expect(truth.tensors.length).toBe(7));

  it("trap 2: gradients (-1, -1, 2), drive z: across / along", () => {
    const ratio = width_m([-1, -1, 2], "z", "x") / width_m([-1, -1, 2], "z", "z");
    expectPrinted(ratio, truth.constants["trap 2 across/along"]);
  });
});
