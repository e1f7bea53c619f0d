import { FerruleError } from "../../errors.js";
import type { Formula, FormulaInput } from "../../units/index.js";

/**
 * Repetition time of a Lissajous trajectory whose drive frequencies are one base frequency over whole numbers.
 *   f_i = f_B / N_i,  T = lcm(N_i) / f_B
 *
 * @param dividers  whole numbers of 1 or more, one per drive axis
 * @returns period, s
 * Valid for   1, 2 or 3 axes
 * Source      Knopp et al., Phys. Med. Biol. 54:385 (2009); from memory. The 21.5 ms frame of dividers 102, 96, 99 at
 *             2.5 MHz is printed by Graeser et al., Sci. Rep. 7:6872 (2017); read.
 * Checked by  checks/handbook
 */
export function lissajousPeriod_s(baseFrequency_Hz: number, dividers: readonly number[]): number {
  return dividers.reduce(leastCommonMultiple, 1) / baseFrequency_Hz;
}

function leastCommonMultiple(a: number, b: number): number {
  if (!Number.isSafeInteger(b) || b < 1) {
    throw new FerruleError("InvalidValue", {
      path: "divider",
      found: String(b),
      accepted: "a whole number of 1 or more, e.g. 102",
    });
  }
  const multiple = (a / greatestCommonDivisor(a, b)) * b;
  if (Number.isSafeInteger(multiple)) return multiple;
  throw new FerruleError("InvalidValue", {
    path: "divider",
    found: `a least common multiple beyond 2^53 (at divider ${b})`,
    accepted: "dividers with a smaller common multiple, e.g. 102, 96, 99",
  });
}

function greatestCommonDivisor(a: number, b: number): number {
  return b === 0 ? a : greatestCommonDivisor(b, a % b);
}

const dividerInput = (axis: string, extra: Partial<FormulaInput>): FormulaInput => ({
  name: `divider-${axis}`,
  kind: "dimensionless",
  summary: `whole number that divides the base frequency, ${axis} axis`,
  example: "102",
  minimum: 1,
  ...extra,
});

const unusedAxis = "1 for an axis that is not driven";

export const lissajousPeriodFormula: Formula = {
  name: "lissajous-period",
  subject: "signal",
  summary: "drive frequencies and repetition time of a Lissajous trajectory",
  equation: "f_i = f_B / N_i, T = lcm(N_x, N_y, N_z) / f_B",
  inputs: [
    {
      name: "base-frequency",
      kind: "frequency",
      summary: "clock from which every drive frequency is divided",
      example: "2.5 MHz",
      minimum: 0,
      aboveMinimum: true,
    },
    dividerInput("x", {}),
    dividerInput("y", { example: "96", default: "1", summary: `divider of the y axis; ${unusedAxis}` }),
    dividerInput("z", { example: "99", default: "1", summary: `divider of the z axis; ${unusedAxis}` }),
  ],
  outputs: [
    { name: "frequency-x", kind: "frequency", unit: "Hz", summary: "drive frequency, x axis" },
    { name: "frequency-y", kind: "frequency", unit: "Hz", summary: "drive frequency, y axis" },
    { name: "frequency-z", kind: "frequency", unit: "Hz", summary: "drive frequency, z axis" },
    { name: "period", kind: "time", unit: "ms", summary: "time after which the trajectory repeats" },
  ],
  validity: "whole dividers; one clock for all axes",
  source: { text: "Knopp et al., Phys. Med. Biol. 54:385 (2009)", status: "from memory" },
  compute: (inputs) => {
    const base_Hz = inputs["base-frequency"];
    const dividers = ["divider-x", "divider-y", "divider-z"].map((name) => inputs[name]);
    return {
      "frequency-x": base_Hz / dividers[0],
      "frequency-y": base_Hz / dividers[1],
      "frequency-z": base_Hz / dividers[2],
      period: lissajousPeriod_s(base_Hz, dividers),
    };
  },
};
